// From which side a place of the toy is seen.

import { Vector3 } from "three";
import { plus, type Vec } from "./space";

const clearOf = 0.5; // mm that a look at a place begins off the wood that it is on
const underneath = 0.7; // how much one would rather not look up through the floor
const aTurn = 0.6; // and how much rather not turn by a radian, both as if so many faces lay before the place

/** sides is the ways one could look from: from above, and eight round about at three heights. */
const sides: Vector3[] = [new Vector3(0.02, -0.05, 1).normalize()];
for (const z of [0.9, 0.35, -0.5]) for (let k = 0; k < 8; k++) sides.push(new Vector3(Math.cos((k * Math.PI) / 4 + 0.35), Math.sin((k * Math.PI) / 4 + 0.35), z).normalize());

/** isOf tells whether a piece is one of some, or of a glue-up that is. */
export function isOf(id: string, some: string[]): boolean {
  return some.some((p) => id === p || id.startsWith(p + "/"));
}

/** clearest is the way to look from at which the least lies before a place, of those the one that is
 * least of a turn. Pieces that the finding is about count half. */
export function clearest(at: Vec, now: Vector3, mine: string[], before: (from: Vec, way: Vector3) => string[]): Vector3 {
  let best = now, least = Infinity;
  for (const way of [now, ...sides]) {
    const hidden = before(plus(at, way.toArray() as Vec, clearOf), way);
    const others = hidden.filter((id) => !isOf(id, mine)).length;
    const cost = hidden.length + others + aTurn * way.angleTo(now) + (way.z < 0 ? underneath : 0);
    if (cost < least) [best, least] = [way, cost];
  }
  return best.clone();
}
