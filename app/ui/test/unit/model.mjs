import assert from "node:assert/strict";
import test from "node:test";
import { legOffsets, partOf } from "../../src/dryfit/apart.ts";
import { byWorst, findingsOf, nothingBefore, told } from "../../src/store.ts";
import { hashOf, routeOf } from "../../src/route.ts";

const blank = { shelf: null, look: null, says: null, there: "yes", open: { file: "toy.yaml", state: null, toy: null, proof: null, before: null, scene: null, apart: null } };
const finding = (check, verdict, id = check) => ({ id, check, verdict, about: "", says: "" });
const part = (hash, checks, findings) => ({ findings: { hash, checks, findings, done: false, verdict: "", pieces: 0, massKg: 0, notAsked: [] } });
const run = (m, ...events) => events.reduce(told, m);

test("findings grow; those of an earlier text are left, and stand in until the present ones are there", () => {
  let m = run(blank, { toy: { hash: "1" } }, part("1", ["fit"], [finding("fit", "fails")]), part("1", ["roll"], [finding("roll", "holds")]));
  assert.deepEqual(findingsOf(m.open).map((f) => f.id), ["fit", "roll"]);
  m = run(m, { findings: { hash: "1", checks: [], findings: [], done: true, verdict: "fails", pieces: 3, massKg: 1, notAsked: [] } });
  assert.equal(m.open.proof.verdict, "fails");
  m = run(m, { toy: { hash: "2" } }, part("1", ["fit"], [finding("fit", "fails", "late")]));
  assert.deepEqual(findingsOf(m.open).map((f) => f.id), ["fit", "roll"], "until then");
  m = run(m, part("2", ["fit"], [finding("fit", "holds", "new")]));
  assert.deepEqual(findingsOf(m.open).map((f) => f.id), ["new", "roll"]);
  m = run(m, { findings: { hash: "2", checks: [], findings: [], done: true, verdict: "holds", pieces: 3, massKg: 1, notAsked: [] } });
  assert.deepEqual(findingsOf(m.open).map((f) => f.id), ["new"]);
});

test("the model is never changed in place", () => {
  const freeze = (x) => { if (x && typeof x === "object" && !Object.isFrozen(x)) { Object.freeze(x); Object.values(x).forEach(freeze); } return x; };
  let m = freeze(structuredClone(blank));
  for (const e of [{ shelf: { folder: "f", toys: [] } }, { state: { file: "other.yaml", hash: "1" } }, { toy: { hash: "1" } }, part("1", ["a"], [finding("a", "fails")]), { scene: { hash: "1", meshes: [{ key: "k" }], pieces: [{ shape: "k" }] } }, { apart: { hash: "1", legs: [] } }]) m = freeze(told(m, e));
  assert.equal(m.open.file, "other.yaml");
});

test("shapes that are sent once stay as long as they are used", () => {
  const scene = (hash, meshes, shapes) => ({ scene: { hash, meshes: meshes.map((key) => ({ key })), pieces: shapes.map((shape) => ({ shape })) } });
  let m = run(blank, scene("1", ["a", "b"], ["a", "b"]), scene("2", ["c"], ["a", "c"]));
  assert.deepEqual(m.open.scene.meshes.map((x) => x.key), ["a", "c"]);
  assert.equal(run(m, { apart: { hash: "1", legs: [1] } }).open.apart, null, "that is of another text");
});

test("events of a toy that is no longer open are left", () => {
  const shut = { ...blank, open: null };
  for (const e of [{ state: { file: "x" } }, { toy: { hash: "1" } }, { scene: { hash: "1" } }]) assert.equal(told(shut, e), shut);
});

test("the worst is first", () => {
  assert.deepEqual(byWorst(["holds", "mind", "fails", "waived", "cannot tell"].map((v) => finding(v, v))).map((f) => f.verdict), ["fails", "cannot tell", "mind", "waived", "holds"]);
});

test("pieces go along their ways one after the other", () => {
  const way = [[0, 0, 10], [30, 0, 0]];
  assert.deepEqual(partOf(way, 0), [0, 0, 0]);
  assert.deepEqual(partOf(way, 0.25), [0, 0, 10]);
  assert.deepEqual(partOf(way, 1), [30, 0, 10]);
  assert.deepEqual(partOf(way, 7), [30, 0, 10], "no farther than the way");
  assert.deepEqual(partOf([[0, 0, 0]], 0.5), [0, 0, 0]);
  const legs = [{ pieces: [0], with: [], out: [[10, 0, 0]] }, { pieces: [1], with: [0], out: [[0, 20, 0]] }];
  assert.deepEqual(legOffsets(3, legs, 0), [[0, 0, 0], [0, 0, 0], [0, 0, 0]]);
  assert.deepEqual(legOffsets(3, legs, 0.5), [[10, 0, 0], [0, 0, 0], [0, 0, 0]]);
  assert.deepEqual(legOffsets(3, legs, 1), [[10, 20, 0], [0, 20, 0], [0, 0, 0]]);
});

test("an address leads to the page it was made of", () => {
  for (const r of [{ file: null, page: "dry-fit" }, { file: "spår vagn 2.yaml", page: "file" }, { file: "a%b#c.yaml", page: "draw" }]) assert.deepEqual(routeOf(hashOf(r)), r);
  for (const bad of ["", "#", "#/toy", "#/toy/%E0%A4%A/file", "#/other/x"]) assert.equal(routeOf(bad).file, null);
  assert.equal(routeOf("#/toy/x.yaml/none").page, "dry-fit");
});

test("undoing that has come to its end says whether that is the beginning", () => {
  assert.equal(nothingBefore(0), "there is nothing to undo");
  assert.equal(nothingBefore(1), "undoing ends here: the change before this is no longer kept");
  assert.equal(nothingBefore(300), "undoing ends here: the 300 changes before this are no longer kept");
});
