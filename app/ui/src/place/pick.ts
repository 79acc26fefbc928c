// Placing by two faces that were picked in space: which sides or flats they are, and the line of
// sits that brings the first to the second.

import type { Build, BuildSit, BuildStep, Edit, Seat } from "../protocol";
import { resit } from "./edits";
import { topOf } from "./hold";
import { axisNames, middles, place, sides } from "./words";

/** Hit is a face of a piece under the pointer: which way it looks and a place on it, in the world. */
export interface Hit {
  piece: string;
  normal: [number, number, number];
  at: [number, number, number];
}

/** Face is what the file calls it. */
export interface Face {
  seat: Seat;
  feature: string; // a side or a flat
  side: string; // the side of the piece that it looks like
}

const square = 0.999; // cosine of what may be taken for square: 2.5 degrees
const near = 0.05; // mm between a place on a face and where the file has it; shapes come as 32-bit numbers

/** faceOf finds the words for a face, or says why it has none. */
export function faceOf(seats: Seat[], hit: Hit): Face | string {
  const side = Object.keys(sides).find((w) => hit.normal[sides[w].axis] * sides[w].sign > square);
  if (!side) return `that face of ${hit.piece} is round or slanting: nothing can be said to sit on it square`;
  const at = hit.at[sides[side].axis];
  // What is glued into one piece is placed as one: its own sides are looked at first.
  for (const id of [topOf(hit.piece), hit.piece]) {
    const seat = seats.find((s) => s.id === id);
    if (!seat) continue;
    const flat = seat.features.find((f) => f.kind === "flat" && f.faces === side && Math.abs(f.at - at) < near);
    if (flat) return { seat, feature: flat.name, side };
    const end = (sides[side].sign > 0 ? seat.high : seat.low)[sides[side].axis];
    if (Math.abs(end - at) < near) return { seat, feature: side, side };
  }
  return `that face of ${hit.piece} is not its ${side}: give the flat a name in its outline to place by it`;
}

/** How the first face is brought to the second. */
export type How = "flush" | "centred" | "back";

export interface Placing {
  edits: Edit[];
  moves: string; // the piece
  says: string;
}

/** placing are the edits that bring one face to another, or why that cannot be. The piece that
 * comes later in the build is the one that moves. */
export function placing(b: Build, one: Face, two: Face, how: How, amount: string): Placing | string {
  if (topOf(one.seat.id) === topOf(two.seat.id)) return "both faces are of one piece: pick one of another";
  if (one.seat.step < two.seat.step) [one, two] = [two, one];
  if (one.seat.step === two.seat.step) return `${one.seat.id} and ${two.seat.id} come in one step of the build: their holes place them`;
  const axis = sides[one.side].axis;
  if (axis !== sides[two.side].axis) return "these faces are not parallel";
  const step = b.steps[one.seat.step], id = topOf(one.seat.id);
  if (step.kind !== "put") return `${id} is where its hole is: move the hole`;
  if (one.seat.id !== id) return `that is a face inside ${id}, which is placed by its own sides`;
  const own = how === "centred" ? middles[axis] : one.feature;
  const feature = how === "centred" ? "middle" : two.feature;
  const sign = how === "back" ? (sides[two.side].sign === 1 ? -1 : 1) : 1;
  const text = place(two.seat.id, feature, sign, how === "back" ? amount : "");
  const sit = settling(step, axis);
  if (sit && sit.axes.length > 1) return `${id} is held ${axisNames[axis]} by ${sit.piece}.${sit.feature}: take that line away first`;
  return { edits: sit ? resit(step, sit, own, text) : added(step, own, text), moves: id, says: `${id}: ${own} ${how === "centred" ? "on" : "at"} ${text}` };
}

function settling(step: BuildStep, axis: number): BuildSit | undefined {
  return step.sits.find((s) => s.axes.includes(axis));
}

function added(step: BuildStep, own: string, text: string): Edit[] {
  if (step.sits.length === 0) return [{ op: "insert", path: step.path + ".sits", value: `{${own}: ${text}}`, as: "yaml" }];
  return [{ op: "insert", path: `${step.path}.sits.${own}`, value: text, as: "text" }];
}
