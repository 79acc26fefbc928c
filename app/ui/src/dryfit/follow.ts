// Cars that follow each other over the floor. No wheel slips sideways, so each car turns at the
// rate at which its pin crosses its heading, over the distance from pin to mean axle; the middle of
// the leading car's mean axle is taken along the way. The same as package prove/tracking, by the
// midpoint rule and with the ends of the swings.

import type { Scene } from "../protocol";
import { posesOf, type Rig, type Stand } from "./bodies";
import { moved, turned, type Pose } from "./space";
import { inLine, middleOf, type Car, type Point, type Train } from "./train";

/** Place is the middle of a mean axle and where the car heads. */
export interface Place {
  x: number;
  y: number;
  heading: number;
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
