// The lines that say where a piece sits, each to be read as a sentence and changed word by word.

import type { Build, BuildSit, BuildStep, Seat } from "../protocol";
import { FieldInput } from "../draw/field";
import { change } from "../store";
import type { Hand } from "../units";
import { addSit, freeAxes, reown, resit, retarget, some } from "./edits";
import { axisNames, featureName, offOf, ownFeatures, place, relationOf, relations, targets } from "./words";

export function Sits({ b, step, k, hand }: { b: Build; step: BuildStep; k: number; hand: Hand }) {
  const before = b.seats.filter((s) => s.step < k);
  const own = b.seats.find((s) => s.id === step.ids[0]);
  if (k === 0) return <p class="quiet">It lies where it is, and the others sit on it.</p>;
  const free = freeAxes(step);
  const name = step.ids[0];
  return (
    <>
      <ul class="sits" aria-label={`where ${name} sits`}>
        {step.sits.map((s) => <Line key={s.path} step={step} sit={s} own={own} before={before} name={name} some={some(hand)} />)}
      </ul>
      <p class="row">
        <button class="small" disabled={free?.length === 0} onClick={() => change(addSit(step, before), "another line for " + name)}>Another line</button>
        <span class={free?.length ? "bad" : "quiet"} role="status">{free === null ? "" : free.length === 0 ? "Every direction is settled." : `Still free ${free.map((a) => axisNames[a]).join(", and ")}.`}</span>
      </p>
    </>
  );
}

interface LineProps {
  step: BuildStep;
  sit: BuildSit;
  own: Seat | undefined;
  before: Seat[];
  name: string;
  some: string;
}

function Line({ step, sit, own, before, name, some }: LineProps) {
  const target = before.find((s) => s.id === sit.piece);
  const now = relationOf(sit);
  const ways = relations(sit.own, sit.feature, sit.axes.length === 1 ? sit.axes[0] : -1);
  const taken = new Set(step.sits.map((s) => s.own));
  const what = `place ${name}`;
  const by = (way: string, amount: string) => {
    const r = ways.find((x) => x.way === way)!;
    return change(resit(step, sit, sit.own, place(sit.piece, sit.feature, r.sign, way === "at" ? "" : amount)), what);
  };
  return (
    <li>
      <span class="line">
        <span>its</span>
        <Choice name={`${name}: its own`} value={sit.own} options={ownFeatures(own).filter((f) => f === sit.own || !taken.has(f))} says={featureName} set={(f) => change(reown(step, sit, f, target), what)} />
        <select aria-label="how" value={now.way} onChange={(e) => by((e.target as HTMLSelectElement).value, now.amount || some)}>
          {ways.map((r) => <option key={r.way} value={r.way}>{r.says}</option>)}
        </select>
        <Choice name="piece" value={sit.piece} options={withNow(before.map((s) => s.id), sit.piece)} set={(p) => change(retarget(step, sit, before.find((s) => s.id === p), sit.feature), what)} />
        <Choice name="its" value={sit.feature} options={withNow(targets(target), sit.feature)} says={featureName} set={(f) => change(retarget(step, sit, target, f), what)} />
        {now.way !== "at" && <FieldInput name="by" text={now.amount} said={offOf(sit.said)?.amount} mm={sit.mm === null ? null : Math.abs(sit.mm)} width="4.5rem" set={(t) => by(now.way, t)} />}
      </span>
      <button class="small" aria-label={`take away the line for the ${featureName(sit.own)} of ${name}`} onClick={() => change([{ op: "remove", path: step.sits.length > 1 ? sit.path : step.path + ".sits" }], what)}>×</button>
    </li>
  );
}

/** withNow keeps in a choice what the file says, though it be wrong. */
function withNow(options: string[], now: string): string[] {
  return options.includes(now) ? options : [now, ...options];
}

interface ChoiceProps {
  name: string;
  value: string;
  options: string[];
  says?: (word: string) => string;
  set: (word: string) => unknown;
}

export function Choice({ name, value, options, says, set }: ChoiceProps) {
  return (
    <select aria-label={name} value={value} onChange={(e) => set((e.target as HTMLSelectElement).value)}>
      {options.map((o) => <option key={o} value={o}>{says ? says(o) : o}</option>)}
    </select>
  );
}
