// How far each piece is off its place when the toy is pulled apart by a share of the whole way:
// one thing after the other, the last put on first, along the ways that the proof found.

import type { Leg } from "../protocol";
import { length, type Vec } from "./space";

/** partOf is the shift after going a share of a way of several legs. */
export function partOf(out: Vec[], share: number): Vec {
  let left = out.reduce((sum, v) => sum + length(v), 0) * Math.min(1, Math.max(0, share));
  const at: Vec = [0, 0, 0];
  for (const v of out) {
    const l = length(v);
    const k = l === 0 ? 0 : Math.min(1, left / l);
    for (let i = 0; i < 3; i++) at[i] += v[i] * k;
    left -= l * k;
  }
  return at;
}

export function legOffsets(pieces: number, legs: Leg[], share: number): Vec[] {
  const off: Vec[] = Array.from({ length: pieces }, () => [0, 0, 0]);
  legs.forEach((leg, k) => {
    const mine = share * legs.length - k;
    if (mine <= 0) return;
    const by = partOf(leg.out as Vec[], mine);
    for (const i of [...leg.pieces, ...leg.with]) for (let a = 0; a < 3; a++) off[i][a] += by[a];
  });
  return off;
}

/** legNow is which leg is under way, counted from 0; -1 before the first, as many as there are once
 * all is apart. */
export function legNow(legs: Leg[], share: number): number {
  return share <= 0 ? -1 : share >= 1 ? legs.length : Math.floor(share * legs.length);
}
