// The work on a part in its order, and the values of what is chosen.

import { useState } from "preact/hooks";
import type { Corner, Field, Hole, Work } from "../protocol";
import { follow, handle } from "../order";
import { change } from "../store";
import { bend, moveWork, remove, setMirror, setRadius } from "./edits";
import { FieldInput } from "./field";
import { toPaper } from "./keys";
import { filed, written } from "./lengths";
import { label, type Drawing } from "./state";
import { sideNames, type Side } from "./views";
import { WheelsHere } from "./wheels";
import { worded } from "../units";

export function WorkList({ d }: { d: Drawing }) {
  const [dragged, setDragged] = useState(-1);
  const all = d.part.work;
  const move = async (k: number, to: number) => {
    if (!(await moveWork(d.part, k, to))) return;
    if (d.chosen.work === k) d.choose({ work: to, spot: "" }); // what is open stays open
    else if (d.chosen.work === to) d.choose({ work: k, spot: "" });
    follow(d.part.path, k, to, all.length);
  };
  return (
    <section aria-labelledby="work-head">
      <h2 id="work-head">Work, in order</h2>
      {all.length === 0 && <p class="quiet">Nothing is done to this blank yet. Choose a tool above the drawing.</p>}
      <ol class="work">
        {all.map((w, k) => {
          const on = d.chosen.work === k;
          return (
            <li key={w.path} class={on ? "on" : ""} draggable
              onDragStart={() => setDragged(k)} onDragOver={(e) => e.preventDefault()}
              onDrop={(e) => { e.preventDefault(); void moveWork(d.part, dragged, k); }}>
              <div class="row">
                <button class="plain" aria-pressed={on} onClick={() => choose(d, k, on)}>{label(w, k, d.hand)}{w.side && <span class="quiet"> {sideNames[w.side as Side].toLowerCase()}</span>}</button>
                <span class="row end">
                  <button id={handle(d.part.path, k, "up")} class="small" disabled={k === 0} aria-label={`Do ${label(w, k, d.hand)} earlier`} onClick={() => move(k, k - 1)}>↑</button>
                  <button id={handle(d.part.path, k, "down")} class="small" disabled={k === all.length - 1} aria-label={`Do ${label(w, k, d.hand)} later`} onClick={() => move(k, k + 1)}>↓</button>
                </span>
              </div>
              {on && <Values d={d} w={w} />}
            </li>
          );
        })}
      </ol>
    </section>
  );
}

/** choose opens a work, and shows the side that it is on. */
function choose(d: Drawing, k: number, was: boolean): void {
  d.choose({ work: was ? -1 : k, spot: "" });
  const side = d.part.work[k].side as Side | "";
  if (side && !d.sides.includes(side)) {
    const pair = ["top", "bottom"].includes(side) ? 0 : ["right", "left"].includes(side) ? 1 : 2;
    const next: Drawing["sides"] = [...d.sides];
    next[pair] = side;
    d.setSides(next);
  }
}

function Values({ d, w }: { d: Drawing; w: Work }) {
  const hole = w.holes.find((h) => h.path !== "" && h.path === d.chosen.spot);
  const corner = w.corners.find((c) => c.path === d.chosen.spot);
  return (
    <div class="values">
      {w.fields.map((f) => <FieldInput key={f.path} {...f} set={(t) => (f.name === "depth" && through(t) ? change([{ op: "remove", path: f.path }], "right through") : set(f, t))} />)}
      {w.kind === "drill" && !w.fields.some((f) => f.name === "depth") && (
        <FieldInput name="depth" text="through" plain says="or how deep, as 1/2" set={(t) => (through(t) ? Promise.resolve(true) : deep(w, t, d))} width="7rem" />
      )}
      {w.list && (
        <label class="field"><span>mirror</span>
          <select value={w.mirror} onChange={(e) => setMirror(w, (e.target as HTMLSelectElement).value)}>
            <option value="">no</option><option value="along">along the side</option><option value="across">across the side</option>
          </select>
        </label>
      )}
      {w.holes.length > 0 && (
        <ul class="spots">
          {w.holes.map((h, i) => <li key={h.path || i}><button class="small" aria-pressed={h.path === d.chosen.spot && h.path !== ""} onClick={() => d.choose({ work: d.chosen.work, spot: h.path })}>{h.name || "hole " + (i + 1)}</button></li>)}
        </ul>
      )}
      {hole && <Spot d={d} of={hole} title={hole.name || "this hole"} removable={w.holes.length > 1} />}
      {hole?.name && <WheelsHere d={d} hole={hole} />}
      {w.corners.length > 0 && (
        <ul class="spots">
          {w.corners.map((c, i) => <li key={c.path}><button class="small" aria-pressed={c.path === d.chosen.spot} onClick={() => d.choose({ work: d.chosen.work, spot: c.path })}>{i + 1}</button></li>)}
        </ul>
      )}
      {corner && <Spot d={d} of={corner} title={"corner " + (w.corners.indexOf(corner) + 1)} removable={w.corners.length > 3} />}
      {corner && <CornerValues d={d} w={w} c={corner} />}
      <button class="small" onClick={() => { toPaper(); d.choose({ work: -1, spot: "" }); void remove(w.path, "remove " + w.says); }}>Take this work away</button>
    </div>
  );
}

/** through tells whether what is typed as a depth says that a hole goes right through. */
function through(text: string): boolean {
  return ["", "through"].includes(text.trim().toLowerCase());
}

/** deep gives holes a depth that went right through. */
async function deep(w: Work, text: string, d: Drawing): Promise<boolean> {
  const [says] = await worded([text], d.hand);
  return change([{ op: "insert", path: w.path + ".drill.depth", value: says, as: "text" }], "depth " + says);
}

function set(f: Field, text: string): Promise<boolean> {
  return change([{ op: "set", path: f.path, value: text, as: "text" }], `${f.name} ${text}`);
}

function Spot({ d, of, title, removable }: { d: Drawing; of: Hole | Corner; title: string; removable: boolean }) {
  return (
    <div class="row" role="group" aria-label={title}>
      {[of.x, of.y].map((f) => f.path && <FieldInput key={f.path} {...f} says={f.mm !== null && f.text !== written(f.mm, d.hand.own) ? "= " + written(f.mm, d.hand.own) : ""} set={(t) => set(f, t)} width="8rem" />)}
      {removable && <button class="small" onClick={() => { toPaper(); void remove(of.path, "remove " + title); d.choose({ work: d.chosen.work, spot: "" }); }}>Remove {title}</button>}
    </div>
  );
}

function CornerValues({ d, w, c }: { d: Drawing; w: Work; c: Corner }) {
  if (c.arc.length > 0) {
    return (
      <div class="row">
        {c.arc.map((f) => <FieldInput key={f.path} {...f} name={"arc, " + f.name} set={(t) => set(f, t)} width="8rem" />)}
        <button class="small" onClick={() => bend(c, null)}>Make this side straight</button>
      </div>
    );
  }
  const i = w.corners.indexOf(c), before = w.corners[(i + w.corners.length - 1) % w.corners.length];
  const x = ((before.x.mm ?? 0) + (c.x.mm ?? 0)) / 2, y = ((before.y.mm ?? 0) + (c.y.mm ?? 0)) / 2;
  const dx = (c.x.mm ?? 0) - (before.x.mm ?? 0), dy = (c.y.mm ?? 0) - (before.y.mm ?? 0);
  const bulge = 0.2; // of the side's length, to the right as the corners go: outward for most
  return (
    <div class="row">
      <FieldInput name="radius" text={c.radius?.text ?? ""} said={c.radius?.said} mm={c.radius?.mm} set={(t) => setRadius(c, t)} width="6rem" />
      <button class="small" onClick={() => bend(c, [filed(x + dy * bulge, d.hand), filed(y - dx * bulge, d.hand)])}>Bend the side before it</button>
    </div>
  );
}
