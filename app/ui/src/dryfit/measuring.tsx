// Measuring: two faces, clicked or chosen from lists, and how far they are apart.

import { useEffect, useState } from "preact/hooks";
import type { Scene } from "../protocol";
import type { Pick, View } from "./view";
import { between, faceAt, placed, towards, whole, type Face, type Measured } from "./measure";
import { plain } from "./names";
import { length, minus, type Vec } from "./space";
import { said } from "./units";

/** sides is what one can choose of a piece without pointing. */
const sides: { id: string; name: string; way: Vec | null }[] = [
  { id: "any", name: "where it is nearest", way: null },
  { id: "front", name: "front", way: [1, 0, 0] },
  { id: "back", name: "back", way: [-1, 0, 0] },
  { id: "left", name: "left", way: [0, 1, 0] },
  { id: "right", name: "right", way: [0, -1, 0] },
  { id: "top", name: "top", way: [0, 0, 1] },
  { id: "bottom", name: "bottom", way: [0, 0, -1] },
];

/** End is one end of what is measured. */
interface End {
  piece: string;
  side: string; // of sides; "clicked": the face that was clicked
  pick: Pick | null;
}

const nothing: End = { piece: "", side: "any", pick: null };

export function Measuring({ view, scene, units, poseKey, onEnd }: { view: View; scene: Scene; units: string; poseKey: number; onEnd: () => void }) {
  const [ends, setEnds] = useState<[End, End]>([nothing, nothing]);
  const [places, setPlaces] = useState(false);
  useEffect(() => {
    view.hand.moves = false;
    const stop = view.onPick((p) => {
      if (!p) return;
      const end: End = { piece: p.piece, side: "clicked", pick: p };
      setEnds(([a, b]) => (!a.piece || b.piece ? [end, nothing] : [a, end]));
    });
    return () => {
      stop();
      view.hand.moves = true;
      view.measured([], []);
    };
  }, [view]);
  const found = measured(view, ends, places);
  useEffect(() => {
    const faces = places ? [] : ends.map((e) => faceOf(view, e)).filter((f): f is Face => f !== null && f.triangles.length < wholeFrom);
    const marks = found
      ? [{ kind: "dimension" as const, from: found.from, to: found.to, reach: found.reach, says: found.kind === "gap" && found.mm < flush ? "flush" : said(found.mm, units) }]
      : ends[0].pick ? [{ kind: "from" as const, at: ends[0].pick.at }] : [];
    view.measured(marks, ends.some((e) => e.side === "clicked" || e.side !== "any") ? faces : []);
  }, [view, ends, places, poseKey, scene]);
  const set = (k: 0 | 1, end: End): void => setEnds(k === 0 ? [end, ends[1]] : [ends[0], end]);
  return (
    <section class="measuring" aria-labelledby="measuring-head">
      <div class="row">
        <h2 id="measuring-head">Measure</h2>
        <label><input type="radio" name="measure-what" checked={!places} onChange={() => setPlaces(false)} /> faces</label>
        <label><input type="radio" name="measure-what" checked={places} onChange={() => setPlaces(true)} /> places</label>
        <button class="small" onClick={() => setEnds([nothing, nothing])}>Anew</button>
        <button class="small" onClick={onEnd}>Done</button>
      </div>
      <div class="row">
        <Chooser label="From" end={ends[0]} scene={scene} set={(e) => set(0, e)} />
        <Chooser label="to" end={ends[1]} scene={scene} set={(e) => set(1, e)} />
      </div>
      <p role="status" class="measured">{found ? says(found, units) : ends[0].piece ? "Now the other one: click it, or choose it above." : `Click two ${places ? "places" : "faces"} of the toy, or choose them above.`}</p>
    </section>
  );
}

/** wholeFrom is so many triangles that a face is not a face but all of a piece. */
const wholeFrom = 4000;

function Chooser({ label, end, scene, set }: { label: string; end: End; scene: Scene; set: (e: End) => void }) {
  return (
    <span class="chooser">
      <label>{label} <select value={end.piece} onChange={(e) => set({ piece: (e.target as HTMLSelectElement).value, side: "any", pick: null })}>
        <option value="">–</option>
        {scene.pieces.map((p) => <option key={p.id} value={p.id}>{plain(p.id)}</option>)}
      </select></label>
      <label><span class="unseen">{label}: which side of it</span><select value={end.side} disabled={!end.piece} onChange={(e) => set({ ...end, side: (e.target as HTMLSelectElement).value, pick: null })}>
        {end.side === "clicked" && <option value="clicked">the face clicked</option>}
        {sides.map((s) => <option key={s.id} value={s.id}>{s.name}</option>)}
      </select></label>
    </span>
  );
}

/** faceOf is the face of an end, where it is now. */
function faceOf(view: View, e: End): Face | null {
  const d = e.piece ? view.pieceOf(e.piece) : undefined;
  if (!d) return null;
  if (e.side === "clicked") return e.pick && e.pick.triangle < d.form.faces.length ? placed(faceAt(d.form, e.pick.triangle), d.pose) : null;
  const way = sides.find((s) => s.id === e.side)?.way;
  return (way && towards(d.form, d.pose, way)) ?? whole(d.form, d.pose);
}

function measured(view: View, [a, b]: [End, End], places: boolean): Measured | null {
  if (places && a.pick && b.pick) return { mm: length(minus(a.pick.at, b.pick.at)), kind: "places", from: a.pick.at, to: b.pick.at, reach: null, centres: null };
  const [f, g] = [faceOf(view, a), faceOf(view, b)];
  return f && g ? between(f, g) : null;
}

/** flush is how far apart, in mm, faces still count as lying in one plane: what single precision leaves. */
const flush = 0.002;

const kinds: Record<Measured["kind"], string> = { gap: "from face to face, square to them", nearest: "where they are nearest", places: "from place to place" };

function says(m: Measured, units: string): string {
  const centres = m.centres === null ? "" : `; their middles are ${said(m.centres, units)} apart`;
  if (m.kind === "gap" && m.mm < flush) return "Flush: both faces lie in one plane.";
  return `${said(m.mm, units)}: ${kinds[m.kind]}${centres}.`;
}
