import assert from "node:assert/strict";
import test from "node:test";
import { listed, named } from "../../src/names.ts";

test("what is typed as a name stays as it is typed, or is refused; only spaces become hyphens", () => {
  for (const [typed, name] of [["wing", "wing"], [" Left wing ", "Left-wing"], ["cab_2", "cab-2"], ["R2", "R2"]]) assert.deepEqual(named(typed), { name, wrong: "" });
  for (const typed of ["Flügel", "車", "2nd", "-x", "a.b", "a/b", " "]) assert.match(named(typed).wrong, /is not a name; expected letters a to z, digits and hyphens, the first a letter$/, typed);
});

test("a list in words", () => {
  assert.deepEqual([[], ["a"], ["a", "b"], ["a", "b", "c"]].map(listed), ["", "a", "a and b", "a, b and c"]);
});
