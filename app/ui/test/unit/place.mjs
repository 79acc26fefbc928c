import assert from "node:assert/strict";
import test from "node:test";
import { addSit, freeAxes, gapFor, gluing, lay, makeFirst, reown, retarget, setWords, why } from "../../src/place/edits.ts";
import { following, hold, stopAt } from "../../src/place/hold.ts";
import { faceOf, placing } from "../../src/place/pick.ts";
import { offOf, place, relationOf } from "../../src/place/words.ts";

const seat = (id, step, low, high, features = []) => ({ id, part: id, step, low, high, features });
const sit = (own, text, axes, path = "build[1].sits." + own) => {
  const [, piece, feature, off = ""] = text.match(/^(\S+)\.(\S+?)(?: (.*))?$/);
  return { own, path, text, piece, feature, off, axes };
};
const put = (k, id, sits = [], more = {}) => ({
  path: `build[${k}]`, kind: "put", ids: [id], part: id, partPath: `build[${k}].put`, says: id, lines: [k, k], body: `build[${k}]`, fields: [], words: [], sits,
  lies: null, yes: [{ name: "glued", path: `build[${k}].glued`, said: false, yes: false }], glueTo: [], ...more,
});
const wheels = (k, ids, hole) => ({ ...put(k, ids[0]), kind: "wheels", ids, words: [{ name: "in", path: `build[${k}].wheels.in`, items: [hole], of: "holes" }] });

const deck = { name: "deck", kind: "flat", faces: "top", at: 12 };
const hole = { name: "axle", kind: "hole", faces: "", at: 0 };
const build = {
  glueUp: "", path: "build",
  steps: [
    put(0, "frame"),
    put(1, "cab", [sit("bottom", "frame.deck", [2]), sit("front", "frame.front - 1/8", [0]), sit("middle", "frame.middle", [1])]),
    wheels(2, ["pin", "wheel", "wheel.2"], "frame.axle"),
    put(3, "roof", [sit("bottom", "cab.top", [2], "build[3].sits.bottom"), sit("axle", "cab.axle", [0, 1], "build[3].sits.axle")]),
  ],
  seats: [seat("frame", 0, [0, 0, 0], [100, 40, 20], [deck, hole]), seat("cab", 1, [67, 5, 12], [97, 35, 42], [hole]), seat("wheel", 2, [10, -8, -5], [30, -1, 15]), seat("roof", 3, [60, 0, 42], [100, 40, 48], [hole])],
};
const cab = build.steps[1];

test("what is added to a place is read and written with its sign", () => {
  for (const [off, sign, amount] of [["- 3/16", -1, "3/16"], ["+ board", 1, "board"], ["- 3/4 - 1/4", -1, "3/4 + 1/4"], ["- (a - b) + c", -1, "(a - b) - c"]]) {
    assert.deepEqual(offOf(off), { sign, amount });
    assert.equal(place("frame", "front", sign, amount), "frame.front " + off);
  }
  assert.equal(place("frame", "top", 1, "0"), "frame.top");
  assert.equal(place("frame", "top", 1, "-1/8"), "frame.top - 1/8");
});

test("a line reads as a sentence", () => {
  const says = (own, text, axes) => relationOf(sit(own, text, axes)).says;
  assert.equal(says("front", "frame.front", [0]), "is flush with");
  assert.equal(says("front", "frame.front - 1/8", [0]), "is set back from");
  assert.equal(says("back", "frame.back - 1/8", [0]), "is proud of");
  assert.equal(says("right", "frame.right + 1/8", [1]), "is set back from");
  assert.equal(says("bottom", "frame.top", [2]), "is against");
  assert.equal(says("bottom", "frame.top - 1/4", [2]), "goes into");
  assert.equal(says("top", "frame.bottom - 1/4", [2]), "stands off");
  assert.equal(says("middle", "frame.middle", [1]), "is centred on");
  assert.equal(says("middle", "frame.middle + 1", [1]), "is left of");
  assert.equal(says("front", "frame.nose - 1", [0]), "is behind");
  assert.equal(says("axle", "frame.axle", [0, 2]), "is in line with");
});

test("another word of a line is another edit", () => {
  assert.deepEqual(reown(cab, cab.sits[1], "back", build.seats[0]), [
    { op: "insert", path: "build[1].sits.back", value: "frame.back", as: "text", to: "build[1].sits.front" }, { op: "remove", path: "build[1].sits.front" },
  ]);
  assert.deepEqual(retarget(cab, cab.sits[1], build.seats[0], "back"), [{ op: "set", path: "build[1].sits.front", value: "frame.back - 1/8", as: "text" }]);
  assert.deepEqual(retarget(cab, cab.sits[0], build.seats[2], "deck"), [{ op: "set", path: "build[1].sits.bottom", value: "wheel.top", as: "text" }]);
  assert.deepEqual(freeAxes(cab), []);
  const less = { ...cab, sits: cab.sits.slice(0, 2) };
  assert.deepEqual(freeAxes(less), [1]);
  assert.deepEqual(addSit(less, build.seats), [{ op: "insert", path: "build[1].sits.middle-across", value: "frame.middle", as: "text" }]);
  assert.deepEqual(addSit({ ...cab, sits: [] }, build.seats), [{ op: "insert", path: "build[1].sits", value: "{front: frame.front}", as: "yaml" }]);
  assert.equal(freeAxes({ ...cab, sits: [sit("middle", "frame.middle", [])] }), null);
});

test("gluing, lists and laying", () => {
  assert.deepEqual(gluing(cab, "sits"), [{ op: "insert", path: "build[1].glued", value: "yes", as: "yaml" }]);
  assert.deepEqual(gluing({ ...cab, yes: [{ name: "glued", path: "build[1].glued", said: true, yes: true }] }, ["frame"]), [
    { op: "insert", path: "build[1].glue-to", value: "[frame]", as: "yaml" }, { op: "remove", path: "build[1].glued" },
  ]);
  assert.deepEqual(gluing({ ...cab, glueTo: ["frame"] }, []), [{ op: "remove", path: "build[1].glue-to" }]);
  const holes = build.steps[2].words[0];
  assert.equal(setWords(holes, ["a.b"])[0].value, "a.b");
  assert.equal(setWords(holes, ["a.b", "c.d"])[0].value, "[a.b, c.d]");
  assert.equal(gapFor(2, { path: "p", text: "" }, "mm")[0].value, "1.5");
  assert.deepEqual(gapFor(1, { path: "p", text: "2" }, "mm"), [{ op: "remove", path: "p" }]);
  const l = { path: "build[1].lies", said: true, length: "forward", way: "up", side: "face" };
  assert.deepEqual(lay({ ...l, said: false }, "up", "up", "face"), [{ op: "insert", path: l.path, value: "{length: up, left: face}", as: "yaml" }]);
  assert.deepEqual(lay(l, "forward", "up", "edge"), [{ op: "set", path: l.path + ".up", value: "edge" }]);
  assert.equal(lay(l, "forward", "left", "face").length, 2);
});

test("what hangs on a step keeps its place in the order", () => {
  assert.match(why(build, 1, -1), /^roof hangs on cab/);
  assert.match(why(build, 3, 1), /^roof hangs on cab/);
  assert.match(why(build, 2, 0), /hangs on frame/);
  assert.match(why(build, 0, 1), /cab hangs on frame/);
  assert.equal(why(build, 3, -1), "");
  assert.equal(why(build, 2, 1), "");
});

test("a drag moves the line that settles its direction, or says why not", () => {
  assert.equal(hold(build, "cab", 0).path, "build[1].sits.front");
  assert.equal(hold(build, "cab", 2).path, "build[1].sits.bottom");
  const glued = { ...build, steps: build.steps.map((s, k) => (k === 1 ? { ...s, yes: [{ name: "glued", path: "", said: true, yes: true }] } : s)) };
  assert.match(hold(glued, "cab", 2).why, /glued to frame there/);
  assert.equal(hold(glued, "cab", 0).path, "build[1].sits.front");
  assert.match(hold(build, "frame", 0).why, /comes first/);
  assert.match(hold(build, "wheel.2", 0).why, /where its hole is \(frame\.axle\)/);
  assert.match(hold(build, "roof", 0).why, /held by cab\.axle/);
  assert.deepEqual([...following(build, "cab")], ["cab", "roof"]);
  assert.deepEqual(stopAt(4.9, [0, 10], [], 2, 1), { by: 4, line: null });
  assert.deepEqual(stopAt(4.9, [0, 10], [[15, 40]], 2, 1), { by: 5, line: 15 });
});

test("two faces make a line", () => {
  const face = (piece, normal, at) => faceOf(build.seats, { piece, normal, at });
  const onDeck = face("frame", [0, 0, 1], [80, 20, 12]), front = face("frame", [1, 0, 0], [100, 10, 10]);
  const under = face("roof", [0, 0, -1], [70, 20, 42]), cabFront = face("cab", [1, 0, 0], [97, 10, 20]), cabLeft = face("cab", [0, 1, 0], [70, 35, 30]);
  assert.equal(onDeck.feature, "deck");
  assert.equal(front.feature, "front");
  assert.match(face("frame", [0, 0, 1], [80, 20, 15]), /is not its top/);
  assert.match(face("frame", [0.7, 0, 0.7], [0, 0, 0]), /slanting/);
  assert.deepEqual(placing(build, cabFront, front, "flush", "").edits, [{ op: "set", path: "build[1].sits.front", value: "frame.front", as: "text" }]);
  assert.deepEqual(placing(build, front, cabFront, "back", "1/4").edits, [{ op: "set", path: "build[1].sits.front", value: "frame.front - 1/4", as: "text" }]);
  assert.deepEqual(placing(build, cabLeft, face("frame", [0, -1, 0], [50, 0, 5]), "centred", "").edits.map((e) => e.value ?? e.path), ["frame.middle", "build[1].sits.middle"]);
  assert.deepEqual(placing(build, under, onDeck, "back", "2").edits[0].value, "frame.deck - 2");
  assert.match(placing(build, cabFront, onDeck, "flush", ""), /not parallel/);
  assert.match(placing(build, cabFront, cabLeft, "flush", ""), /one piece/);
  assert.match(placing(build, face("wheel", [0, 1, 0], [20, -1, 5]), face("frame", [0, -1, 0], [50, 0, 5]), "flush", ""), /where its hole is/);
  assert.match(placing(build, face("roof", [1, 0, 0], [100, 10, 45]), front, "flush", ""), /held forward and back by cab\.axle/);
});

test("another piece becomes the first: what it sits on sits on it, in the same place", () => {
  const edits = makeFirst(build, 1);
  assert.deepEqual(edits, [
    { op: "insert", path: "build[0].sits", value: "{deck: cab.bottom, front: cab.front + 1/8, middle: cab.middle}", as: "yaml" },
    { op: "remove", path: "build[1].sits" },
    { op: "move", path: "build[1]", to: "[0]" },
  ]);
  assert.match(makeFirst(build, 3), /roof sits on cab/);
  assert.match(makeFirst(build, 2), /only a part/);
});
