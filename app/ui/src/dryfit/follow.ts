// Cars that follow each other over the floor. No wheel slips sideways, so each car turns at the
// rate at which its pin crosses its heading, over the distance from pin to mean axle; the middle of
// the leading car's mean axle is taken along the way. The same as package prove/tracking, by the
// midpoint rule and with the ends of the swings.

import type { Scene } from "../protocol";
import { posesOf, rolls, type Rig, type Stand } from "./bodies";
import { moved, turned, type Pose, type Vec } from "./space";

type Point = [number, number];

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

/** Place is the middle of a mean axle and where the car heads. */
export interface Place {
  x: number;
  y: number;
  heading: number;
}

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
const inLine = 1;

/** middleOf is the middle of what is on an axle. */
function middleOf(scene: Scene, body: number): Point {
  const mine = scene.pieces.filter((p) => p.body === body);
  const size = new Map(scene.meshes.map((m) => [m.key, m.size]));
  const middles = mine.map((p) => moved(p.pose, (size.get(p.shape) ?? [0, 0, 0]).map((s) => s / 2) as Vec));
  if (middles.length === 0) return [scene.bodies[body].at[0], scene.bodies[body].at[1]];
  const mean = (i: number): number => (Math.min(...middles.map((m) => m[i])) + Math.max(...middles.map((m) => m[i]))) / 2;
  return [mean(0), mean(1)];
}

/** placesOf is where the cars are in a stand. */
export function placesOf(train: Train, poses: Pose[]): Place[] {
  return train.map((c) => {
    const p = poses[c.wheels.length ? carBody(c) : c.bodies[0]];
    const [x, y] = moved(p, [c.at[0], c.at[1], 0]);
    const u = turned(p, [Math.cos(c.heading), Math.sin(c.heading), 0]);
    return { x, y, heading: Math.atan2(u[1], u[0]) };
  });
}

/** carBody is a body of a car that neither swings nor rolls in it. */
function carBody(c: Car): number {
  return c.bodies.find((b) => !c.wheels.includes(b)) ?? c.bodies[0];
}

const farStep = 2; // mm of one step along the way: a small part of any wheelbase
const turnStep = 0.02; // and radians of turning

/** advance takes the leading car on by a length, turning by an angle to the left, evenly, and
 * returns the stand that the toy has then. Wheels turn by as much as they roll. */
export function advance(scene: Scene, rig: Rig, train: Train, stand: Stand, far: number, bend: number): Stand {
  if (train.length === 0) return stand;
  const steps = Math.max(1, Math.ceil(Math.max(Math.abs(far) / farStep, Math.abs(bend) / turnStep)));
  const angles = [...stand.angles];
  const places = placesOf(train, posesOf(scene, rig, stand));
  for (let i = 0; i < steps; i++) step(scene, train, places, angles, far / steps, bend / steps);
  return { floor: floorOf(rig, train, places, stand), angles };
}

function step(scene: Scene, train: Train, places: Place[], angles: number[], far: number, bend: number): void {
  const before = places.map((p) => ({ ...p }));
  const half = rates(train, before, far / 2, bend / 2);
  const mid = before.map((p, k) => ({ ...p, heading: p.heading + half[k] }));
  const full = rates(train, mid, far, bend);
  train.forEach((c, k) => {
    const p = places[k];
    p.heading = before[k].heading + full[k];
    if (c.leader < 0) {
      p.x += far * Math.cos(mid[k].heading);
      p.y += far * Math.sin(mid[k].heading);
    } else {
      const lead = places[c.leader];
      const b = scene.bodies[c.hinge];
      const drawn = c.heading - train[c.leader].heading;
      const angle = c.sense * whole(p.heading - lead.heading - drawn, c.sense * angles[c.hinge]);
      angles[c.hinge] = b.kind === "hinge" ? Math.min(b.high, Math.max(b.low, angle)) : angle;
      p.heading = lead.heading + drawn + c.sense * angles[c.hinge];
      const pin = pointOf(train[c.leader], lead, c.pin);
      const mine = pointOf(c, { x: c.at[0], y: c.at[1], heading: p.heading }, c.pin); // as if it were not moved
      p.x = c.at[0] + pin[0] - mine[0];
      p.y = c.at[1] + pin[1] - mine[1];
    }
    const rate = p.heading - before[k].heading;
    const on = (p.x - before[k].x) * Math.cos(mid[k].heading) + (p.y - before[k].y) * Math.sin(mid[k].heading);
    for (const w of c.wheels) {
      const b = scene.bodies[w];
      const left = -(b.at[0] - c.at[0]) * Math.sin(c.heading) + (b.at[1] - c.at[1]) * Math.cos(c.heading);
      const middle = Math.abs(left) > inLine && onOneSide(scene, c, w) ? left : 0;
      const forward = b.axis[1] * Math.cos(c.heading) - b.axis[0] * Math.sin(c.heading) < 0 ? -1 : 1;
      angles[w] += (forward * (on - middle * rate)) / b.radius;
    }
  });
}

/** onOneSide tells whether an axle does not reach to both sides of its car. */
function onOneSide(scene: Scene, c: Car, w: number): boolean {
  const [x, y] = middleOf(scene, w);
  return Math.abs(-(x - c.at[0]) * Math.sin(c.heading) + (y - c.at[1]) * Math.cos(c.heading)) > inLine;
}

/** whole is an angle, by so many whole turns that it is nearest to another. */
function whole(a: number, near: number): number {
  return a - 2 * Math.PI * Math.round((a - near) / (2 * Math.PI));
}

/** pointOf is where a point of a car is that is drawn at q. */
function pointOf(c: Car, p: Place, q: Point): Point {
  const t = p.heading - c.heading;
  const dx = q[0] - c.at[0], dy = q[1] - c.at[1];
  return [p.x + dx * Math.cos(t) - dy * Math.sin(t), p.y + dx * Math.sin(t) + dy * Math.cos(t)];
}

/** armLeast is the distance from pin to mean axle, in mm, below which nothing turns a car. */
const armLeast = 1e-6;

/** rates is by how much each car turns over one step of the leading one. */
function rates(train: Train, places: Place[], far: number, bend: number): number[] {
  const turns: number[] = [], goes: Point[] = [];
  train.forEach((c, k) => {
    const p = places[k];
    const ahead: Point = [Math.cos(p.heading), Math.sin(p.heading)];
    if (c.leader < 0) {
      turns.push(bend);
      goes.push([far * ahead[0], far * ahead[1]]);
      return;
    }
    const lead = places[c.leader];
    const pin = pointOf(train[c.leader], lead, c.pin);
    const t = turns[c.leader];
    const v: Point = [goes[c.leader][0] - t * (pin[1] - lead.y), goes[c.leader][1] + t * (pin[0] - lead.x)];
    const mine = pointOf(c, p, c.pin);
    const arm: Point = [mine[0] - p.x, mine[1] - p.y];
    const reach = arm[0] * ahead[0] + arm[1] * ahead[1];
    const turn = Math.abs(reach) < armLeast ? t : (v[1] * ahead[0] - v[0] * ahead[1]) / reach;
    turns.push(turn);
    goes.push([v[0] + turn * arm[1], v[1] - turn * arm[0]]);
  });
  return turns;
}

/** floorOf places the body that stays as its car has gone. */
function floorOf(rig: Rig, train: Train, places: Place[], stand: Stand): Stand["floor"] {
  const k = train.findIndex((c) => c.bodies.includes(rig.base));
  if (k < 0) return stand.floor;
  const c = train[k], p = places[k];
  const turn = p.heading - c.heading;
  const [x, y] = [c.at[0] * Math.cos(turn) - c.at[1] * Math.sin(turn), c.at[0] * Math.sin(turn) + c.at[1] * Math.cos(turn)];
  return { x: p.x - x, y: p.y - y, turn };
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
