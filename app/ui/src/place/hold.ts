// Which line of the file settles where a piece is along the toy and up and down, and where a
// dragged piece stops.

import type { Build, BuildSit, BuildStep } from "../protocol";
import { hangsOn } from "./edits";
import { axisNames, opposite, sides } from "./words";

/** Hold is the line of sits that a drag along an axis moves; where there is none, why. */
export interface Hold {
  path: string;
  why: string;
}

/** topOf is the id that the build has for a piece: inside a glue-up, that of the glue-up. */
export function topOf(id: string): string {
  return id.split("/")[0];
}

function stepOf(b: Build, id: string): BuildStep | undefined {
  return b.steps.find((s) => s.ids.includes(topOf(id)));
}

export function hold(b: Build | null, id: string, axis: number): Hold {
  const s = b && stepOf(b, id), name = topOf(id);
  if (!s) return { path: "", why: "" };
  if (s === b.steps[0]) return { path: "", why: `${name} comes first: all others are placed by it, so it stays where it is.` };
  if (s.kind !== "put") return { path: "", why: `${name} is where its hole is (${s.words[0].items.join(", ")}): move the hole.` };
  const sit = s.sits.find((x) => x.axes.includes(axis));
  if (!sit) return { path: "", why: `Nothing says yet where ${name} is ${axisNames[axis]}.` };
  if (sit.axes.length > 1) return { path: "", why: `${name} is held by ${sit.piece}.${sit.feature}: move that, or place it by a side.` };
  if (glued(s) && against(sit)) return { path: "", why: `${name} is glued to ${sit.piece} there: to move it off, change how it is glued.` };
  return { path: sit.path, why: "" };
}

/** glued tells whether a piece is glued to what it sits against, against whether a line of sits is
 * such a place: moved off it the file would be wrong. */
function glued(s: BuildStep): boolean {
  return s.glueTo.length === 0 && s.yes.some((f) => f.name === "glued" && f.yes);
}

function against(sit: BuildSit): boolean {
  if (!sides[sit.own] || sit.off) return false;
  return sides[sit.feature] ? sit.feature === opposite(sit.own) : sit.feature !== "middle";
}

/** following are the ids that go along with a piece: itself and what is placed by it. */
export function following(b: Build | null, id: string): Set<string> {
  const out = new Set<string>([topOf(id)]);
  for (const s of b?.steps ?? []) if (hangsOn(s).some((p) => out.has(topOf(p)))) for (const x of s.ids) out.add(x);
  return out;
}

/** Span is from where to where something is along an axis, mm. */
export type Span = [number, number];

/** fine is the share of a mark of the rule that a length in line with another may have: what cannot be
 * written so is no length to build by. */
const fine = 1 / 4;

const same = 0.01; // mm that are no difference

/** stopAt is how far a piece goes that is dragged by raw: until one of its ends or its middle is in
 * line with those of another where it nearly is, else by whole marks of the rule. line is where it
 * is in line. */
export function stopAt(raw: number, own: Span, others: Span[], rule: number, reach: number): { by: number; line: number | null } {
  const marks = (s: Span) => [s[0], s[1], (s[0] + s[1]) / 2];
  let best: { by: number; line: number } | null = null;
  for (const to of others.flatMap(marks)) {
    for (const from of marks(own)) {
      const by = to - from, marked = Math.round(by / (fine * rule)) * fine * rule;
      if (Math.abs(by - marked) > same) continue;
      if (Math.abs(by - raw) < reach && (best === null || Math.abs(by - raw) < Math.abs(best.by - raw))) best = { by, line: to };
    }
  }
  return best ?? { by: Math.round(raw / rule) * rule, line: null };
}
