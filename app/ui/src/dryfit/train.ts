// The toy as cars, the leading one first: what hangs together without upright pins is one. The same
// as package prove has it (train.go), with the turn that all of them can follow.

import type { Scene } from "../protocol";
import { rolls } from "./bodies";
import { moved, type Vec } from "./space";

export type Point = [number, number];

/** Car is what hangs together without upright pins. */
export interface Car {
  bodies: number[];
  leader: number; // the car it hangs on, which comes before it; -1 for the first
  hinge: number; // the body whose angle is between the two
  sense: 1 | -1; // of that angle, against this car's turning to the left of its leader
  pin: Point; // as drawn
  at: Point; // the middle of its mean axle, as drawn
  heading: number; // as drawn
  wheels: number[]; // bodies
}

export type Train = Car[];

const upright = 0.9; // of the direction of a pin that stands, as in the proof

/** trainOf is the cars of a toy that rolls, the leading one first; none for one that does not. */
export function trainOf(scene: Scene): Train {
  const of = scene.bodies.map((_, i) => i); // the car of each body, by one of its bodies
  const find = (i: number): number => (of[i] === i ? i : find(of[i]));
  const pins = scene.bodies.map((_, i) => i).filter((i) => scene.bodies[i].kind === "hinge" && Math.abs(scene.bodies[i].axis[2]) >= upright);
  scene.bodies.forEach((b, i) => {
    if (b.on >= 0 && !pins.includes(i)) of[find(i)] = find(b.on);
  });
  const wheelsOf = (car: number): number[] => scene.bodies.map((_, i) => i).filter((i) => find(i) === car && rolls(scene.bodies[i], scene));
  // Without wheels: it rides along on what it is pinned to, and lies in line between two.
  for (;;) {
    const cars = [...new Set(scene.bodies.map((_, i) => find(i)))];
    const bare = cars.find((c) => wheelsOf(c).length === 0 && pins.some((p) => joins(p, c)));
    if (bare === undefined) break;
    const mine = pins.filter((p) => joins(p, bare));
    // the one that is further from what leads is the one that it pulls
    const away = (p: number): number => distance(other(p, bare), find(scene.leads));
    const into = mine.reduce((a, p) => (away(p) > away(a) ? p : a), mine[0]);
    of[bare] = other(into, bare);
  }
  function joins(p: number, car: number): boolean {
    const [a, b] = [find(p), find(scene.bodies[p].on)];
    return a !== b && (a === car || b === car);
  }
  function other(p: number, car: number): number {
    const [a, b] = [find(p), find(scene.bodies[p].on)];
    return a === car ? b : a;
  }
  function distance(from: number, to: number, seen: number[] = []): number {
    if (from === to) return 0;
    return Math.min(Infinity, ...pins.filter((p) => joins(p, from) && !seen.includes(other(p, from))).map((p) => 1 + distance(other(p, from), to, [...seen, from])));
  }
  const rolling = [...new Set(scene.bodies.map((_, i) => find(i)))].filter((c) => wheelsOf(c).length > 0);
  if (rolling.length === 0) return [];
  const lead = rolling.includes(find(scene.leads)) ? find(scene.leads) : rolling[0];
  const order = [lead];
  const out: Train = [carOf(scene, lead, find, wheelsOf(lead), -1, -1)];
  for (let k = 0; k < order.length; k++) {
    for (const p of pins) {
      if (!joins(p, order[k]) || order.includes(other(p, order[k]))) continue;
      const next = other(p, order[k]);
      if (wheelsOf(next).length === 0) continue;
      order.push(next);
      out.push(carOf(scene, next, find, wheelsOf(next), k, p));
    }
  }
  return out;
}

function carOf(scene: Scene, car: number, find: (i: number) => number, wheels: number[], leader: number, hinge: number): Car {
  let hx = 0, hy = 0;
  const rows: { x: number; y: number; n: number }[] = []; // short axles in one line count as one
  for (const w of wheels) {
    const b = scene.bodies[w];
    const s = b.axis[1] < 0 ? -1 : 1;
    hx += s * b.axis[1];
    hy -= s * b.axis[0];
  }
  const h = Math.atan2(hy, hx);
  const along = (p: number[]): number => p[0] * Math.cos(h) + p[1] * Math.sin(h);
  for (const w of wheels) {
    const at = middleOf(scene, w);
    const row = rows.find((r) => Math.abs(along([r.x, r.y]) - along(at)) < inLine);
    if (row) {
      row.x = (row.x * row.n + at[0]) / (row.n + 1);
      row.y = (row.y * row.n + at[1]) / (row.n + 1);
      row.n++;
    } else {
      rows.push({ x: at[0], y: at[1], n: 1 });
    }
  }
  const at: Point = [rows.reduce((a, r) => a + r.x, 0) / rows.length, rows.reduce((a, r) => a + r.y, 0) / rows.length];
  const b = hinge >= 0 ? scene.bodies[hinge] : null;
  const child = hinge >= 0 && find(hinge) === car; // the angle turns this car, not its leader
  return {
    bodies: scene.bodies.map((_, i) => i).filter((i) => find(i) === car),
    leader, hinge, pin: b ? [b.at[0], b.at[1]] : at, at, heading: h, wheels,
    sense: b && b.axis[2] < 0 === child ? -1 : 1,
  };
}

/** inLine is how near, in mm, two short axles are to one line across the car. */
export const inLine = 1;

/** middleOf is the middle of what is on an axle. */
export function middleOf(scene: Scene, body: number): Point {
  const mine = scene.pieces.filter((p) => p.body === body);
  const size = new Map(scene.meshes.map((m) => [m.key, m.size]));
  const middles = mine.map((p) => moved(p.pose, (size.get(p.shape) ?? [0, 0, 0]).map((s) => s / 2) as Vec));
  if (middles.length === 0) return [scene.bodies[body].at[0], scene.bodies[body].at[1]];
  const mean = (i: number): number => (Math.min(...middles.map((m) => m[i])) + Math.max(...middles.map((m) => m[i]))) / 2;
  return [mean(0), mean(1)];
}

/** ease is how much of a swing a turn may use, so that nothing is driven against its stop. */
const ease = 0.9;

/** tightest is the radius of the leading car's mean axle in the tightest turn, to either side, in
 * which every car follows and no pin comes near its stop; null where nothing steers. From pin to
 * pin the radius is common to both cars: r² + a² = r'² + L². */
export function tightest(scene: Scene, train: Train): number | null {
  if (train.length < 2) return null;
  const size = Math.hypot(scene.high[0] - scene.low[0], scene.high[1] - scene.low[1]);
  let best: number | null = null;
  for (let r = 20 * size; r > size / 3; r *= 0.97) {
    if (!runs(scene, train, r) || !runs(scene, train, -r)) break;
    best = r;
  }
  return best;
}

/** runs tells whether the train follows a circle of radius r, to the left if r > 0. */
function runs(scene: Scene, train: Train, r: number): boolean {
  const radius: number[] = [], turned: number[] = [];
  const side = Math.sign(r);
  return train.every((c, k) => {
    if (c.leader < 0) {
      radius.push(Math.abs(r));
      turned.push(0);
      return true;
    }
    const lead = train[c.leader];
    const own = (car: Car): Point => { // the pin, ahead of the mean axle and towards the turn
      const dx = c.pin[0] - car.at[0], dy = c.pin[1] - car.at[1];
      return [dx * Math.cos(car.heading) + dy * Math.sin(car.heading), side * (dy * Math.cos(car.heading) - dx * Math.sin(car.heading))];
    };
    const on = own(lead), hitch = own(c);
    const rest = on[0] ** 2 + (radius[c.leader] - on[1]) ** 2 - hitch[0] ** 2;
    if (rest < 0) return false;
    radius.push(hitch[1] + Math.sqrt(rest));
    // how far the leader has swung towards the turn, against its follower
    const swing = Math.atan2(hitch[0], radius[k] - hitch[1]) - Math.atan2(on[0], radius[c.leader] - on[1]);
    const b = scene.bodies[c.hinge];
    const angle = c.sense * (-side * swing - (c.heading - lead.heading));
    return angle >= ease * b.low && angle <= ease * b.high;
  });
}
