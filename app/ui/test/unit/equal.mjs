import assert from "node:assert/strict";
import test from "node:test";
import { equalAt } from "../../src/draw/equal.ts";
import { guided, guidesSay, stepped } from "../../src/draw/guides.tsx";

const at = (raw, others, reach = 1.5) => equalAt(raw, others, reach);

test("midway between its neighbours", () => {
  assert.deepEqual(at(20.9, [0, 40]), { at: 20, gap: 20, marks: [[0, 20], [20, 40]] });
  assert.equal(at(22, [0, 40]), null, "out of reach");
  assert.equal(at(30.5, [0, 20, 40]).at, 30, "of the nearest two, not of all");
  assert.equal(at(5, []), null);
  assert.equal(at(5, [5]), null);
});

test("as far again as the neighbour is from the next", () => {
  assert.deepEqual(at(39, [10, 25]), { at: 40, gap: 15, marks: [[10, 25], [25, 40]] });
  assert.deepEqual(at(-4, [10, 25]), { at: -5, gap: 15, marks: [[-5, 10], [10, 25]] });
  assert.equal(at(59.5, [10, 25, 100], 1.5), null, "not twice as far");
  assert.equal(at(40.4, [10, 25, 100]).at, 40, "with another far off");
});

test("the neighbours are those next to it", () => {
  assert.equal(at(39.2, [10, 25, 33]), null, "33 lies between: 40 is nothing");
  assert.equal(at(41, [10, 25, 33]).at, 41, "8 beyond 33");
});

test("places in line count once, and the nearest wins", () => {
  assert.equal(at(20, [0, 0.001, 40, 40]).at, 20);
  assert.equal(at(31, [0, 10, 20, 41]).at, 30.5, "midway at 30.5 is nearer than 30");
  assert.equal(at(30, [0, 10, 20, 40]).at, 30);
});

// Whatever it says is so: both gaps are as long, and nothing lies in them.
test("what is equal is equal", () => {
  let seed = 7;
  const next = () => (seed = (seed * 16807) % 2147483647) / 2147483647;
  let found = 0;
  for (let i = 0; i < 2000; i++) {
    const others = Array.from({ length: Math.floor(next() * 6) }, () => Math.round(next() * 400) / 4);
    const raw = next() * 120 - 10, e = at(raw, others);
    if (!e) continue;
    found++;
    for (const [a, b] of e.marks) {
      assert.ok(Math.abs(b - a - e.gap) < 1e-9 && !others.some((x) => x > a + 0.01 && x < b - 0.01), JSON.stringify({ raw, others, e }));
      assert.ok([a, b].every((x) => x === e.at || others.some((o) => Math.abs(o - x) < 0.011)), JSON.stringify({ raw, others, e }));
    }
    assert.equal(e.marks[0][1], e.marks[1][0]);
    assert.ok(Math.abs(e.at - raw) <= 1.5);
  }
  assert.ok(found > 100, String(found));
});

const size = [100, 40], rule = 1;

test("a dragged place goes in line, to equal spacing or to the rule, whichever is near", () => {
  const others = [[10, 8], [30, 20]];
  let g = guided([49.2, 13.3], others, size, rule, 1.2);
  assert.deepEqual(g.at, [50, 14], "the middle and as far again; midway");
  assert.deepEqual([g.lines[0], g.equals[0].gap, g.equals[1].gap], [50, 20, 6]);
  g = guided([10.4, 30.2], others, size, rule, 1.2);
  assert.deepEqual([g.at, g.lines, g.equals], [[10, 30], [10, null], [null, null]]);
  g = guided([70.3, 19.4], others, size, rule, 1.2);
  assert.deepEqual([g.at, g.lines], [[70, 20], [null, 20]], "in line with a hole and the middle of the side");
});

test("keys go by marks of the rule, and to equal spacing off them", () => {
  const others = [[10, 8], [31, 20]];
  const go = (raw, was, by, o = others) => stepped(raw, was, by, o, size, rule);
  assert.deepEqual(go([20, 5], [19, 5], [1, 0]).at, [20, 5], "20.5 is ahead yet");
  assert.deepEqual(go([21, 5], [20, 5], [1, 0]).at, [20.5, 5], "and was passed");
  assert.deepEqual(go([22, 5], [20.5, 5], [1, 0]).at, [22, 5], "it holds nobody");
  assert.deepEqual(go([21, 5], [22, 5], [-1, 0]).at, [21, 5]);
  assert.deepEqual(go([21, 6], [20.5, 5], [0, 1]).at, [20.5, 6], "along the other axis it stays");
  const g = go([21, 5], [20, 5], [1, 0], [[10, 8], [31.5, 20]]);
  assert.deepEqual([g.at, g.equals[0].gap], [[20.75, 5], 10.75]);
  assert.equal(guidesSay(g, { own: "mm", hand: "mm" }), "equal spacing 10.75 mm across");
  assert.equal(guidesSay({ ...g, equals: [{ at: 0, gap: 38.1, marks: [] }, null] }, { own: "mm", hand: "inch" }), "equal spacing 1 1/2 in across");
  assert.equal(guidesSay(go([50, 5], [49, 5], [1, 0]), { own: "mm", hand: "mm" }), "", "in line is seen, and said by its place");
});
