// The toy as what moves as one, hung on the body that one would leave standing: how each is placed
// when hinges have been swung and wheels turned, and which of them a hand on a piece moves.

import type { Body, Scene } from "../protocol";
import { after, length, still, turn, type Pose, type Vec } from "./space";

/** Stand is how the toy stands: where on the floor, and by how much each body has been turned
 * against the one it is on. */
export interface Stand {
  floor: { x: number; y: number; turn: number };
  angles: number[];
}

/** Rig is the bodies as a tree from the one that stays. */
export interface Rig {
  base: number;
  /** Of every body but the base, in an order in which what carries comes first: the body that
   * carries it here, and the body whose angle turns the two against each other. */
  links: { body: number; from: number; by: number }[];
}

export function asDrawn(scene: Scene): Stand {
  return { floor: { x: 0, y: 0, turn: 0 }, angles: scene.bodies.map(() => 0) };
}

/** much is how many times the wood of what leads another has to have to be the one that stays. */
const much = 2;

/** onFloor is how near, in mm, wheels come to the floor that count as rolling on it: a little more
 * than the play that axles have. */
const onFloor = 1.5;

/** rolls tells whether wheels stand on the floor. */
export function rolls(b: Body, scene: Scene): boolean {
  return b.kind === "wheels" && b.radius > 0 && Math.abs(b.axis[2]) < 0.5 && Math.abs(b.at[2] - b.radius - scene.floor) < onFloor;
}

export function rigOf(scene: Scene): Rig {
  const base = baseOf(scene);
  const links: Rig["links"] = [];
  const seen = new Set([base]);
  for (let k = 0, queue = [base]; k < queue.length; k++) {
    const from = queue[k];
    scene.bodies.forEach((b, i) => {
      const [next, by] = i === from ? [b.on, i] : b.on === from ? [i, i] : [-1, -1];
      if (next < 0 || seen.has(next)) return;
      seen.add(next);
      links.push({ body: next, from, by });
      queue.push(next);
    });
  }
  return { base, links };
}

/** baseOf is the body that stays when others are swung: what leads, unless it is small beside
 * another that stands on wheels; of a toy without wheels that with the most wood. */
function baseOf(scene: Scene): number {
  const wood = scene.bodies.map(() => 0);
  const size = new Map(scene.meshes.map((m) => [m.key, m.size[0] * m.size[1] * m.size[2]]));
  for (const p of scene.pieces) wood[p.body] += size.get(p.shape) ?? 0;
  const wheeled = scene.bodies.filter((b) => rolls(b, scene)).map((b) => b.on);
  const could = scene.bodies.map((_, i) => i).filter((i) => scene.bodies[i].kind !== "wheels" && (wheeled.length === 0 || wheeled.includes(i)));
  const most = could.reduce((a, i) => (wood[i] > wood[a] ? i : a), could[0] ?? 0);
  return could.includes(scene.leads) && wheeled.length > 0 && wood[most] < much * wood[scene.leads] ? scene.leads : most;
}

/** posesOf is where each body is, against as drawn. */
export function posesOf(scene: Scene, rig: Rig, stand: Stand): Pose[] {
  const out: Pose[] = scene.bodies.map(() => still);
  const { x, y, turn: about } = stand.floor;
  out[rig.base] = after([1, 0, 0, 0, 1, 0, 0, 0, 1, x, y, 0], turn([0, 0, 0], [0, 0, 1], about));
  for (const l of rig.links) {
    const b = scene.bodies[l.by];
    const angle = (l.by === l.body ? 1 : -1) * (stand.angles[l.by] ?? 0);
    out[l.body] = length(b.axis as Vec) === 0 ? out[l.from] : after(out[l.from], turn(b.at as Vec, b.axis as Vec, angle));
  }
  return out;
}

/** Move is what a hand on a body does: it turns body `by`, the way its angle counts (1) or against. */
export interface Move {
  by: number;
  way: 1 | -1;
  kind: "swing" | "roll" | "spin";
}

/** moveOf is the move of a body; null where it stays. */
export function moveOf(scene: Scene, rig: Rig, body: number): Move | null {
  const link = rig.links.find((l) => l.body === body);
  if (!link) return null;
  const b = scene.bodies[link.by];
  const way = link.by === body ? 1 : -1;
  if (b.kind === "wheels") return { by: link.by, way, kind: rolls(b, scene) ? "roll" : "spin" };
  return { by: link.by, way, kind: "swing" };
}

/** swung is the bodies that go along when the angle of a body changes. */
export function swung(rig: Rig, by: number): number[] {
  const out: number[] = [];
  for (const l of rig.links) if (l.by === by || out.includes(l.from)) out.push(l.body);
  return out;
}

/** within is an angle that a body can have. */
export function within(b: Body, angle: number): number {
  return b.kind === "hinge" ? Math.min(b.high, Math.max(b.low, angle)) : angle;
}

/** stopNear is how near, in radians, the end of a swing counts as its end: a hundredth of a degree. */
const stopNear = Math.PI / 18000;

/** Contact is two pieces that touch. */
export interface Contact {
  body: number;
  piece: string; // that stays
  by: string; // that has been swung
  at: Vec; // on the body that the file has stay
  angle: number;
}

/** contactsOf is what has been swung as far as it goes by hand. A swing that is at its end as
 * drawn touches too, but nobody wants to hear of it. */
export function contactsOf(scene: Scene, rig: Rig, angles: number[]): Contact[] {
  const out: Contact[] = [];
  scene.bodies.forEach((b, i) => {
    const a = angles[i] ?? 0;
    if (b.kind !== "hinge" || Math.abs(a) < restNear) return;
    const end = a >= b.high - stopNear ? b.stops[1] : a <= b.low + stopNear ? b.stops[0] : null;
    if (!end?.piece) return;
    const turned = rig.links.some((l) => l.by === i && l.body !== i); // the other side is the one that is swung here
    out.push({ body: i, piece: turned ? end.by : end.piece, by: turned ? end.piece : end.by, at: end.at as Vec, angle: a });
  });
  return out;
}

/** restNear is how near to as drawn, in radians, a hinge counts as not moved: a tenth of a degree. */
const restNear = Math.PI / 1800;

/** followed is the angle or way that keeps a held point nearest to the pointer: of those between low and high, no
 * further than `reach` from where it is now, the one whose picture is nearest to the pointer.
 * Looked for in even steps first, so that it is not caught beside a nearer place, then halved. */
export function followed(now: number, low: number, high: number, reach: number, off: (t: number) => number): number {
  const from = Math.max(low, now - reach), to = Math.min(high, now + reach);
  if (!(to > from)) return Math.min(high, Math.max(low, now));
  const steps = 48, halvings = 24;
  let best = now, least = off(now);
  for (let i = 0; i <= steps; i++) {
    const t = from + ((to - from) * i) / steps;
    const d = off(t);
    if (d < least - 1e-9) [best, least] = [t, d];
  }
  let step = (to - from) / steps;
  for (let i = 0; i < halvings; i++) {
    step /= 2;
    for (const t of [best - step, best + step]) {
      if (t < from || t > to) continue;
      const d = off(t);
      if (d < least) [best, least] = [t, d];
    }
  }
  return best;
}
