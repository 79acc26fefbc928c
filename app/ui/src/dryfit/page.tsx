// Dry fit: the toy in three dimensions, what it can do, and what the proof found.

import { useEffect, useRef, useState } from "preact/hooks";
import { Findings } from "../findings";
import { Hint } from "../hint";
import type { Scene } from "../protocol";
import { Sizes } from "../sizes";
import { now, useModel, watch } from "../store";
import { useHand } from "../units";
import { Measuring } from "./measuring";
import { Motion } from "./motion";
import { Moving, Playing, touching } from "./moving";
import { Picker } from "../place/picker";
import type { Pick } from "./hand";
import { plain, swingName, wheelsName } from "./names";
import { said } from "./units";
import { View } from "./view";

export function DryFit() {
  const place = useRef<HTMLDivElement>(null);
  const [motion] = useState(() => new Motion());
  const [view, setView] = useState<View | null>(null);
  const [moved, setMoved] = useState(0); // counts what the motion has told
  const scene = useModel((m) => m.open?.scene ?? null);
  const units = useHand().hand;
  const [doing, setDoing] = useState<"" | "measuring" | "placing">("");
  const measuring = doing === "measuring";
  const [hits, setHits] = useState<Pick[]>([]);
  const [chosen, setChosen] = useState("");
  const [over, setOver] = useState("");
  const found = useModel((m) => !!m.look?.finding);
  useEffect(() => {
    const v = new View(place.current!, motion);
    setView(v);
    v.hand.onOver = (p) => setOver(p?.piece ?? "");
    const show = () => v.show(now());
    show();
    const stops = [watch(show), motion.watch(() => setMoved((n) => n + 1))];
    return () => {
      stops.forEach((stop) => stop());
      motion.stop();
      v.end();
    };
  }, []);
  useEffect(() => view?.choose(chosen || null), [view, chosen]);
  useEffect(() => {
    if (!view || measuring) return;
    return view.onPick((p) => {
      setChosen(p?.piece ?? "");
      // Faces are told by where they look as drawn: with anything moved they look elsewhere.
      if (p && doing === "placing" && motion.isBack()) setHits((h) => [...h, p].slice(-2));
    });
  }, [view, doing]);
  const begin = (what: typeof doing) => {
    setHits([]);
    setDoing(what === doing ? "" : what);
    if (what === "placing") motion.back();
  };
  const told = over || chosen;
  const grab = view && over && !measuring && view.hand.moveAt(over) ? " grab" : "";
  return (
    <div class="two">
      <section class="stage" aria-labelledby="stage-head">
        <h1 id="stage-head" class="unseen">Dry fit</h1>
        <div class={"picture" + grab}>
          <div class="scene" ref={place} tabIndex={0} role="img" aria-label="The toy in three dimensions. Arrow keys turn it, plus and minus come nearer and go away, Home shows all of it." />
          {!scene && <p class="told" role="status">Putting it together …</p>}
          {scene && <p class="told" aria-hidden="true">{told ? <Told scene={scene} id={told} units={units} motion={motion} view={measuring ? null : view} /> : hint(doing)}</p>}
          {view && scene && (
            <div class="row looks">
              <button aria-pressed={measuring} onClick={() => begin("measuring")}>Measure</button>
              <button aria-pressed={doing === "placing"} onClick={() => begin("placing")}>Place by faces</button>
              <button onClick={() => view.home()}>Show all</button>
            </div>
          )}
          <p role="status" class="touching">{scene && touching(motion, scene)}</p>
        </div>
        {scene && view && (
          <div class="bench">
            {measuring
              ? <Measuring view={view} scene={scene} units={units} poseKey={moved} onEnd={() => setDoing("")} />
              : <Moving motion={motion} scene={scene} units={units} />}
            <div class="row">
              <Playing motion={motion} scene={scene} />
              <label class="which">Piece <select value={chosen} onChange={(e) => setChosen((e.target as HTMLSelectElement).value)}>
                <option value="">–</option>
                {scene.pieces.map((p) => <option key={p.id} value={p.id}>{plain(p.id)}</option>)}
              </select></label>
              <span class="unseen" role="status">{chosen && <Told scene={scene} id={chosen} units={units} motion={motion} view={null} />}</span>
            </div>
          </div>
        )}
      </section>
      <aside class="side">
        {doing === "placing" && <Picker hits={hits} clear={() => setHits([])} />}
        {scene && <Hint id="findings" done={found}>Choose a finding, and the view turns to its place; type another size, and all of it is proved again.</Hint>}
        <Findings />
        <Sizes />
      </aside>
    </div>
  );
}

function hint(doing: string): string {
  if (doing === "placing") return "Click the face that is to move, then the one that it goes to.";
  return doing ? "Click two faces; drag to turn the view." : "Drag what moves; drag anything else to turn the view.";
}

/** Told is a piece in words, and what a drag on it does. */
function Told({ scene, id, units, motion, view }: { scene: Scene; id: string; units: string; motion: Motion; view: View | null }) {
  const p = scene.pieces.find((x) => x.id === id);
  if (!p) return null;
  const size = scene.meshes.find((m) => m.key === p.shape)?.size ?? [];
  const what = plain(p.id).startsWith(plain(p.part)) ? "" : `, a ${plain(p.part)}`;
  const move = view?.hand.moveAt(id);
  const does = !move ? "" : move.kind === "swing"
    ? ` Drag to swing ${swingName(scene, motion.rig, move.by)}.`
    : ` Drag to ${move.kind === "roll" ? "roll it along" : "turn them"}: ${wheelsName(scene, motion.rig, move.by)}.`;
  return <><b>{plain(p.id)}</b>{what}, of {p.wood || "wood"}: {size.map((s) => said(s, units).replace(/ (in|mm)$/, "")).join(" × ")} {units === "inch" ? "in" : "mm"}.{does}</>;
}
