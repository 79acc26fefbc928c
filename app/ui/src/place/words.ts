// Words for where a piece sits, and the text of the file that each stands for.

import type { BuildSit, Seat } from "../protocol";

/** sides are the sides of a piece as it stands, with the axis that each is on and its way along it. */
export const sides: Record<string, { axis: number; sign: 1 | -1 }> = {
  bottom: { axis: 2, sign: -1 }, top: { axis: 2, sign: 1 }, back: { axis: 0, sign: -1 }, front: { axis: 0, sign: 1 }, right: { axis: 1, sign: -1 }, left: { axis: 1, sign: 1 },
};

export const axisNames = ["forward and back", "left and right", "up and down"];

/** middles are the words for the middle in one direction, in the order of the axes. */
export const middles = ["middle-along", "middle-across", "middle-up"];

const middleNames = ["middle, front to back", "middle, side to side", "middle of the height"];

export function featureName(word: string): string {
  const k = middles.indexOf(word);
  return k < 0 ? word : middleNames[k];
}

export function opposite(side: string): string {
  return Object.keys(sides).find((s) => sides[s].axis === sides[side].axis && sides[s].sign !== sides[side].sign)!;
}

/** ownFeatures are what a piece can be placed by, targets what others can be placed at. */
export function ownFeatures(seat: Seat | undefined): string[] {
  return [...Object.keys(sides), "middle", ...middles, ...(seat?.features.map((f) => f.name) ?? [])];
}

export function targets(seat: Seat | undefined): string[] {
  return [...Object.keys(sides), "middle", ...(seat?.features.map((f) => f.name) ?? [])];
}

/** Way is how one place is to another: at it, or off it by some amount one way or the other. */
export type Way = "at" | "one" | "other";

export interface Relation {
  way: Way;
  says: string;
  sign: 1 | -1; // of what is added in the file: forward, left and up count as more
}

const directions: [string, string][] = [["is ahead of", "is behind"], ["is left of", "is right of"], ["is above", "is below"]];

/** relations are the ways in which a feature can be to another; axis is the one that it settles. */
export function relations(own: string, feature: string, axis: number): Relation[] {
  const a = sides[own], b = sides[feature];
  if (a && b && own === feature) return [at("is flush with"), { way: "one", says: "is set back from", sign: flip(b.sign) }, { way: "other", says: "is proud of", sign: b.sign }];
  if (a && b && a.axis === b.axis) return [at("is against"), { way: "one", says: "goes into", sign: flip(b.sign) }, { way: "other", says: "stands off", sign: b.sign }];
  const middle = own.startsWith("middle");
  const says = middle ? "is centred on" : a || axis >= 0 ? "is level with" : "is in line with";
  const [more, less] = directions[a?.axis ?? (axis >= 0 ? axis : middles.indexOf(own))] ?? ["is further than", "is short of"];
  return [at(says), { way: "one", says: more, sign: 1 }, { way: "other", says: less, sign: -1 }];
}

function at(says: string): Relation {
  return { way: "at", says, sign: 1 };
}

export function flip(sign: 1 | -1): 1 | -1 {
  return sign === 1 ? -1 : 1;
}

/** turned is a sum with every sign in it that stands outside brackets changed over. */
function turned(sum: string): string {
  let depth = 0;
  return sum.replace(/[()]| [+-] /g, (m) => {
    if (m === "(") depth++;
    if (m === ")") depth--;
    if (depth > 0 || m.length === 1) return m;
    return m === " + " ? " - " : " + ";
  });
}

/** offOf reads what is added to a place: which way, and how much without a sign. */
export function offOf(off: string): { sign: 1 | -1; amount: string } | null {
  if (!off) return null;
  const amount = off.slice(1).trim();
  return off[0] === "-" ? { sign: -1, amount: turned(amount) } : { sign: 1, amount };
}

/** place is the text of the file for a place on a piece and so much further. */
export function place(piece: string, feature: string, sign: 1 | -1 = 1, amount = ""): string {
  let a = amount.trim();
  if (a.startsWith("-")) {
    sign = flip(sign);
    a = turned(a.slice(1).trim());
  }
  if (a === "" || /^0+(\.0*)?$/.test(a)) return `${piece}.${feature}`;
  return `${piece}.${feature} ${sign < 0 ? "- " + turned(a) : "+ " + a}`;
}

/** relationOf is the relation that a line of sits has now. */
export function relationOf(sit: BuildSit): Relation & { amount: string } {
  const off = offOf(sit.off);
  const all = relations(sit.own, sit.feature, sit.axes.length === 1 ? sit.axes[0] : -1);
  const now = off ? all.find((r) => r.way !== "at" && r.sign === off.sign)! : all[0];
  return { ...now, amount: off?.amount ?? "" };
}

/** meeting is the feature that goes with another at the place before: against what it was against,
 * flush with what it was flush with. */
export function meeting(own: string, before: { own: string; feature: string }, target: Seat | undefined): string {
  if (sides[own]) {
    const was = sides[before.own], on = sides[before.feature];
    // What a bottom is at is most often a flat that it stands on.
    const against = was && (on ? before.own !== before.feature : was.axis === 2 && before.feature !== "middle");
    return against ? opposite(own) : own;
  }
  if (own.startsWith("middle")) return "middle";
  const holes = target?.features.filter((f) => f.kind === "hole" || f.kind === "axis").map((f) => f.name) ?? [];
  return holes.includes(before.feature) ? before.feature : (holes[0] ?? "middle");
}
