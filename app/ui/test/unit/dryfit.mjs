// What the dry fit works out without drawing: poses, what follows, what touches, distances.

import assert from "node:assert/strict";
import { test } from "node:test";
import * as apart from "../../src/dryfit/apart";
import * as bodies from "../../src/dryfit/bodies";
import * as fewer from "../../src/dryfit/fewer";
import * as follow from "../../src/dryfit/follow";
import * as measure from "../../src/dryfit/measure";
import * as names from "../../src/dryfit/names";
import * as space from "../../src/dryfit/space";
import * as trains from "../../src/dryfit/train";
import * as units from "../../src/dryfit/units";

const near = (a, b, by = 1e-6) => assert.ok(Math.abs(a - b) <= by, `${a}, expected ${b}`);
const stop = { piece: "", by: "", at: [0, 0, 0] };
const body = (name, on, more = {}) => ({ name, on, kind: "", at: [0, 0, 0], axis: [0, 0, 0], low: 0, high: 0, stops: [stop, stop], radius: 0, ...more });
const wheels = (name, on, x) => body(name, on, { kind: "wheels", at: [x, 0, 10], axis: [0, 1, 0], radius: 10 });
const piece = (id, body, shape, at) => ({ id, part: id, shape, pose: [1, 0, 0, 0, 1, 0, 0, 0, 1, ...at], wood: "beech", sheet: false, colour: [0, 0, 0], body });
const box = (key, size) => ({ key, size, corners: "", triangles: "", faces: "", edges: "" });

/** train is two cars: the pin is 20 mm behind the first one's mean axle and 60 mm ahead of the second's. */
const train = (low = -1, high = 1) => ({
  hash: "", floor: 0, low: [-100, -20, 0], high: [60, 20, 30], leads: 0,
  meshes: [box("car", [80, 30, 20]), box("axle", [40, 6, 6])],
  bodies: [
    body("body", -1),
    body("coupling", 0, { kind: "hinge", at: [-20, 0, 10], axis: [0, 0, 1], low, high, stops: [{ piece: "frame", by: "trailer-frame", at: [-10, 5, 10] }, { piece: "frame", by: "trailer-frame", at: [-10, -5, 10] }] }),
    wheels("axle", 0, -15), wheels("axle.2", 0, 15), wheels("axle.3", 1, -95), wheels("axle.4", 1, -65),
  ],
  pieces: [
    piece("frame", 0, "car", [-40, -15, 10]), piece("trailer-frame", 1, "car", [-120, -15, 10]), piece("trailer-body", 1, "axle", [-100, -3, 30]),
    ...[-15, 15, -95, -65].flatMap((x, i) => [0, 1, 2].map((k) => piece(`w${i}${k}`, 2 + i, "axle", [x - 20, -3, 7]))),
  ],
});

test("a motion and the one after it", () => {
  const a = space.turn([1, 2, 3], [0, 0, 1], Math.PI / 2), b = space.shift([5, 0, 0]);
  assert.deepEqual(space.moved(space.after(a, b), [1, 2, 3]).map(Math.round), [1, 7, 3]);
});

test("the one that leads stays; the trailer swings with all that is on it", () => {
  const s = train(), rig = bodies.rigOf(s);
  assert.equal(rig.base, 0);
  assert.deepEqual(bodies.swung(rig, 1).sort(), [1, 4, 5]);
  assert.equal(bodies.moveOf(s, rig, 1).kind, "swing");
  assert.equal(bodies.moveOf(s, rig, 5).kind, "roll");
  assert.equal(bodies.moveOf(s, rig, 0), null);
  const stand = bodies.asDrawn(s);
  stand.angles[1] = Math.PI / 2;
  const at = space.moved(bodies.posesOf(s, rig, stand)[4], [-80, 0, 10]);
  near(at[0], -20);
  near(at[1], -60);
});

test("what the file hangs the other way round is swung from the other side", () => {
  const s = train();
  s.leads = 1; // now the body of the hinge stays, and what carries it in the file swings
  const rig = bodies.rigOf(s), stand = bodies.asDrawn(s);
  assert.equal(rig.base, 1);
  stand.angles[1] = 0.3;
  const p = bodies.posesOf(s, rig, stand);
  near(Math.atan2(p[1][1], p[1][0]), 0);
  near(Math.atan2(p[0][1], p[0][0]), -0.3);
  stand.angles[1] = 1;
  const [c] = bodies.contactsOf(s, rig, stand.angles);
  assert.deepEqual([c.piece, c.by], ["trailer-frame", "frame"]);
});

test("a swing stops where it touches", () => {
  const s = train(-0.5, 0.7), rig = bodies.rigOf(s);
  assert.equal(bodies.within(s.bodies[1], 2), 0.7);
  assert.equal(bodies.within(s.bodies[1], -2), -0.5);
  assert.equal(bodies.within(s.bodies[2], 7), 7);
  assert.equal(bodies.contactsOf(s, rig, [0, 0.69, 0, 0, 0, 0]).length, 0);
  assert.equal(bodies.contactsOf(s, rig, [0, 0.7, 0, 0, 0, 0])[0].by, "trailer-frame");
  s.bodies[1].high = 0; // as drawn it is at its end: nothing has been swung
  assert.equal(bodies.contactsOf(s, rig, [0, 0, 0, 0, 0, 0]).length, 0);
});

test("what is held follows the pointer, as far as it goes", () => {
  near(bodies.followed(0, -1, 1, 1, (t) => Math.abs(t - 0.4)), 0.4, 1e-4);
  near(bodies.followed(0, -1, 0.3, 1, (t) => Math.abs(t - 0.4)), 0.3, 1e-4);
  near(bodies.followed(0, -Infinity, Infinity, 50, (t) => Math.abs(t + 20)), -20, 1e-3);
});

test("rolling straight on turns all wheels by their radii", () => {
  const s = train(), rig = bodies.rigOf(s), cars = trains.trainOf(s);
  assert.equal(cars.length, 2);
  const stand = follow.advance(s, rig, cars, bodies.asDrawn(s), 30, 0);
  near(stand.floor.x, 30);
  for (const k of [2, 3, 4, 5]) near(stand.angles[k], 3);
  near(stand.angles[1], 0);
});

test("the pin stays where the two cars meet", () => {
  const s = train(), rig = bodies.rigOf(s), cars = trains.trainOf(s);
  const places = (stand) => bodies.posesOf(s, rig, stand);
  let stand = bodies.asDrawn(s);
  for (let i = 0; i < 20; i++) {
    stand = follow.advance(s, rig, cars, stand, 15, 0.1);
    const p = places(stand);
    const [a, b] = [space.moved(p[0], [-20, 0, 10]), space.moved(p[1], [-20, 0, 10])];
    near(space.length(space.minus(a, b)), 0);
  }
});

// In a steady turn r² + a² = r'² + L², as package prove/tracking has it.
test("a trailer comes to its steady track", () => {
  const s = train(), rig = bodies.rigOf(s), cars = trains.trainOf(s);
  const r = 150, [a, l] = [20, 60];
  const stand = follow.advance(s, rig, cars, bodies.asDrawn(s), 2 * Math.PI * r, 2 * Math.PI);
  near(stand.floor.x, 0, 0.05);
  near(stand.floor.y, 0, 0.05);
  const inner = Math.sqrt(r * r + a * a - l * l);
  const swing = -(Math.atan2(l, inner) - Math.atan2(-a, r));
  near(stand.angles[1], swing, 2e-3);
  const mean = space.moved(bodies.posesOf(s, rig, stand)[1], [-80, 0, 0]);
  near(Math.hypot(mean[0], mean[1] - r), inner, 0.1);
});

test("a trailer at its stop goes round no further", () => {
  const s = train(-0.2, 0.2), rig = bodies.rigOf(s), cars = trains.trainOf(s);
  const stand = follow.advance(s, rig, cars, bodies.asDrawn(s), 400, 4);
  near(stand.angles[1], -0.2);
});

test("the tightest turn is no tighter than the pins allow; nothing steers a single car", () => {
  const s = train(-0.3, 0.3), cars = trains.trainOf(s);
  const r = trains.tightest(s, cars);
  const inner = Math.sqrt(r * r + 400 - 3600);
  const swing = Math.atan2(60, inner) - Math.atan2(-20, r);
  assert.ok(swing <= 0.27 + 1e-9 && swing > 0.25, String(swing));
  const one = train();
  one.bodies[1].kind = "";
  assert.equal(trains.tightest(one, trains.trainOf(one)), null);
  const none = { ...train(), floor: -50 };
  assert.equal(trains.trainOf(none).length, 0);
});

/** block is a box as a shape: six faces. */
function block([x, y, z]) {
  const corners = [];
  for (let i = 0; i < 8; i++) corners.push(i & 1 ? x : 0, i & 2 ? y : 0, i & 4 ? z : 0);
  const quads = [[0, 2, 3, 1], [4, 5, 7, 6], [0, 1, 5, 4], [2, 6, 7, 3], [0, 4, 6, 2], [1, 3, 7, 5]];
  return {
    corners: Float32Array.from(corners), triangles: Uint32Array.from(quads.flatMap(([a, b, c, d]) => [a, b, c, a, c, d])),
    faces: Uint32Array.from(quads.flatMap((_, i) => [i, i])),
  };
}

test("parallel faces have a gap, others are measured where they are nearest", () => {
  const s = block([10, 10, 10]), there = space.shift([30, 4, 0]);
  const right = measure.towards(s, space.still, [1, 0, 0]), left = measure.towards(s, there, [-1, 0, 0]);
  const gap = measure.between(right, left);
  assert.equal(gap.kind, "gap");
  near(gap.mm, 20);
  near(gap.to[0] - gap.from[0], 20);
  assert.equal(gap.reach, null);
  const top = measure.towards(s, there, [0, 0, 1]);
  const nearest = measure.between(right, top);
  assert.equal(nearest.kind, "nearest");
  near(nearest.mm, 20);
  const turned = space.after(space.shift([30, 0, 0]), space.turn([0, 0, 0], [0, 0, 1], 0.5));
  const edge = measure.between(measure.whole(s, space.still), measure.whole(s, turned));
  near(edge.mm, 30 - 10 * Math.sin(0.5) - 10, 1e-5);
  near(measure.between(measure.whole(s, space.still), measure.whole(s, space.shift([5, 5, 5]))).mm, 0);
});

test("faces that are cut into many triangles are cut into few, with a hole left open", () => {
  const n = 24, corners = [], triangles = [];
  const ring = (r) => { for (let i = 0; i < n; i++) corners.push(r * Math.cos((2 * Math.PI * i) / n), r * Math.sin((2 * Math.PI * i) / n), 0); };
  [5, 7, 9].forEach(ring);
  for (let k = 0; k < 2; k++) for (let i = 0; i < n; i++) {
    const j = (i + 1) % n, a = k * n;
    triangles.push(a + i, a + n + i, a + n + j, a + i, a + n + j, a + j);
  }
  const s = { corners: Float32Array.from(corners), triangles: Uint32Array.from(triangles), faces: new Uint32Array(triangles.length / 3) };
  const area = (t) => { let sum = 0; for (let i = 0; i < t.faces.length; i++) { const [a, b, c] = measure.triangleOf(t, i); sum += space.length(space.cross(space.minus(b, a), space.minus(c, a))) / 2; } return sum; };
  const few = fewer.fewer(s);
  assert.ok(few.faces.length <= s.faces.length / 2, `${s.faces.length} to ${few.faces.length}`);
  near(area(few), area(s), 1e-3);
});

test("things come apart one after the other", () => {
  const legs = [{ pieces: [0], with: [], out: [[10, 0, 0]] }, { pieces: [1], with: [0], out: [[0, 0, 4], [0, 6, 0]] }];
  assert.deepEqual(apart.legOffsets(2, legs, 0.25), [[5, 0, 0], [0, 0, 0]]);
  assert.deepEqual(apart.legOffsets(2, legs, 1), [[10, 6, 4], [0, 6, 4]]);
  assert.deepEqual([0, 0.2, 0.5, 1].map((x) => apart.legNow(legs, x)), [-1, 0, 1, 2]);
});

test("what moves in plain words", () => {
  const s = train(), rig = bodies.rigOf(s);
  assert.equal(names.swingName(s, rig, 1), "the trailer");
  assert.equal(names.wheelsName(s, rig, 3), "front wheels");
  assert.equal(names.wheelsName(s, rig, 4), "rear wheels of the trailer");
  assert.equal(names.plain("body/right-side"), "right side of the body");
  assert.equal(names.plain("bed/bed-floor"), "bed floor");
  assert.equal(names.plain("wheel.4"), "wheel 4");
});

test("lengths as a rule says them", () => {
  assert.equal(units.said(25.4 * 1.25, "inch"), "1 1/4 in");
  assert.equal(units.said(30, "inch"), "about 1 3/16 in");
  assert.equal(units.said(0.1, "inch"), "less than 1/64 in");
  assert.equal(units.said(12.345, "mm"), "12.3 mm");
  assert.equal(units.said(1.234, "mm"), "1.23 mm");
});
