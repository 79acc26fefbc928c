// One step of the build: what it says, and its values when it is open.

import type { Build, BuildLies, BuildStep, Field, Toy, WordList } from "../protocol";
import { FieldInput } from "../draw/field";
import { change, rename, say, useModel } from "../store";
import { useHand } from "../units";
import { gapFor, gluing, holesOf, lay, makeFirst, setWords, setYes, typedOver, waysFor, why } from "./edits";
import { GlueIntoOne } from "./glue";
import { Choice, Sits } from "./sits";

interface Props {
  toy: Toy;
  b: Build;
  k: number;
}

const fieldNames: Record<string, string> = { as: "called", "may-leave-out": "may be left out with" };

/** Values are all that can be changed of a step. */
export function Values({ toy, b, k }: Props) {
  const step = b.steps[k], name = step.ids[0] ?? step.kind;
  const holes = holesOf(b, k);
  const hand = useHand();
  const rods = toy.parts.filter((p) => p.shape === "rod").map((p) => p.name);
  const whole = b.glueUp ? b.glueUp + "/" + name : name; // what it is called in all of the file
  const set = (f: Field, t: string) => {
    if (f.name === "as" && t) return rename("pieces." + whole, t);
    if (f.name === "name" && f.text) return rename("hinges." + f.text, t);
    return change(typedOver(f.path, f.text, t), `${f.name} of ${name} ${t}`);
  };
  return (
    <div class="values">
      <Trouble step={step} />
      {step.kind === "put" && <Sits b={b} step={step} k={k} hand={hand} />}
      {step.kind !== "put" && <label class="field"><span>{step.kind === "wheels" ? "axle" : step.kind === "hinge" ? "pin" : "dowel"}</span><Choice name={step.kind + " of"} value={step.part} options={rods} set={(p) => change([{ op: "set", path: step.partPath, value: p }], name)} /></label>}
      {step.words.map((w) => <Words key={w.path} w={w} gap={step.fields.find((f) => f.name === "gap")} units={toy.units} options={w.of === "holes" ? holes : toy.parts.filter((p) => p.shape === "disc").map((p) => p.name)} />)}
      {step.kind === "put" && k > 0 && !b.glueUp && <Glued b={b} step={step} k={k} />}
      {step.yes.filter((f) => f.name !== "glued").map((f) => (
        <label key={f.path} class="row"><input type="checkbox" checked={f.yes} onChange={(e) => change(setYes(f.path, f.said, (e.target as HTMLInputElement).checked), f.name + " of " + name)} /> {f.name.replace(/-/g, " ")}</label>
      ))}
      {step.lies && <Lies l={step.lies} name={name} />}
      {step.fields.map((f) => b.glueUp && f.name === "may-leave-out" ? null : (
        <FieldInput key={f.path} name={step.kind === "hinge" && f.name === "as" ? "pin called" : (fieldNames[f.name] ?? f.name)} text={f.text} said={f.said} mm={f.mm} plain={f.plain} width="7rem" set={(t) => set(f, t)} />
      ))}
      {step.kind === "put" && k > 0 && !b.glueUp && <GlueIntoOne key={step.path} toy={toy} b={b} k={k} />}
      {step.kind === "put" && k > 0 && (
        <button class="small" onClick={() => {
          const edits = makeFirst(b, k);
          if (typeof edits === "string") say(edits);
          else void change(edits, name + " is the first piece");
        }}>Let this be the first piece</button>
      )}
      <button class="small" onClick={() => {
        const not = why(b, k, -1);
        if (not) say(not);
        else void change([{ op: "remove", path: step.path }], "take " + name + " out of the build");
      }}>Take this out of the build</button>
    </div>
  );
}

/** Trouble is what the reader of the file says of the step. */
export function Trouble({ step }: { step: BuildStep }) {
  const problems = useModel((m) => m.open?.state?.problems ?? none);
  const mine = problems.filter((p) => p.line >= step.lines[0] && p.line <= step.lines[1]);
  if (mine.length === 0) return null;
  return <div class="problems" role="alert">{mine.map((p, i) => <p key={i}>{p.says}{p.expected && <>; expected {p.expected}</>}{p.nearest && <>; did you mean {p.nearest}?</>}</p>)}</div>;
}

const none: never[] = [];

/** Words are the holes of an axle, a peg or a hinge, or the wheels at each end of an axle. */
function Words({ w, options, gap, units }: { w: WordList; options: string[]; gap: Field | undefined; units: string }) {
  const names: Record<string, string> = { in: "in", fixed: "glued in", runs: "turns in", outward: "wheels, outward" };
  const of = names[w.name] ?? w.name, what = of + " " + w.items.join(", ");
  const set = (items: string[]) => change([...setWords(w, items), ...(gap && w.of === "discs" ? gapFor(items.length, gap, units) : [])], what);
  const list = w.items.filter((i) => i !== "gap");
  return (
    <div class="field" role="group" aria-label={of}>
      <span>{of}</span>
      {list.map((i, n) => (
        <span class="row" key={n}>
          <Choice name={`${of}, ${n + 1}`} value={i} options={options.includes(i) ? options : [i, ...options]} set={(v) => set(list.map((x, m) => (m === n ? v : x)))} />
          {list.length > 1 && <button class="small" aria-label={`without ${i}`} onClick={() => set(list.filter((_, m) => m !== n))}>×</button>}
        </span>
      ))}
      {options.length > 0 && <button class="small" onClick={() => set([...list, w.of === "discs" ? list[list.length - 1] : (options.find((o) => !list.includes(o)) ?? options[0])])}>{w.of === "discs" ? "Another wheel" : "Another hole"}</button>}
    </div>
  );
}

function Glued({ b, step, k }: { b: Build; step: BuildStep; k: number }) {
  const how = step.glueTo.length > 0 ? "names" : step.yes.some((f) => f.name === "glued" && f.yes) ? "sits" : "no";
  const others = b.seats.filter((s) => s.step < k && !step.glueTo.includes(s.id)).map((s) => s.id);
  const set = (to: Parameters<typeof gluing>[1]) => change(gluing(step, to), "glue " + step.ids[0]);
  const first = step.sits[0]?.piece ?? others[0];
  return (
    <div class="field" role="group" aria-label={"gluing of " + step.ids[0]}>
      <span>glued</span>
      <select aria-label="how it is glued" value={how} onChange={(e) => {
        const v = (e.target as HTMLSelectElement).value;
        void set(v === "names" ? [first] : (v as "no" | "sits"));
      }}>
        <option value="no">no</option>
        <option value="sits">to what it sits against</option>
        <option value="names">to these:</option>
      </select>
      {step.glueTo.map((id) => <button key={id} class="small" aria-label={"not glued to " + id} onClick={() => set(step.glueTo.filter((x) => x !== id))}>{id} ×</button>)}
      {how === "names" && others.length > 0 && (
        <select aria-label="glued to another too" value="" onChange={(e) => set([...step.glueTo, (e.target as HTMLSelectElement).value])}>
          <option value="">and to …</option>
          {others.map((id) => <option key={id} value={id}>{id}</option>)}
        </select>
      )}
    </div>
  );
}

const sideWords = ["face", "other-face", "edge", "other-edge"];

function Lies({ l, name }: { l: BuildLies; name: string }) {
  const set = (length: string, way: string, side: string) => change(lay(l, length, way, side), "how " + name + " lies");
  const side = sideWords.includes(l.side) ? sideWords : [l.side, ...sideWords];
  return (
    <div role="group" aria-label={"how " + name + " lies"}>
      <span class="line">
        <span>its length points</span>
        <Choice name="its length points" value={l.length} options={["forward", "back", "left", "right", "up", "down"]} set={(v) => set(v, l.way, l.side)} />
      </span>
      <span class="line">
        <span>its</span>
        <Choice name="its side" value={l.side} options={side} says={(w) => w.replace("-", " ")} set={(v) => set(l.length, l.way, v)} />
        <span>faces</span>
        <Choice name="which faces" value={l.way} options={waysFor(l.length)} set={(v) => set(l.length, v, l.side)} />
      </span>
    </div>
  );
}
