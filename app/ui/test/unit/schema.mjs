import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import test from "node:test";
import { explain, keysAt, placeAt, takesFormula, valuesAt } from "../../src/file/schema.ts";

const toy = `dryfit: 1
toy: "Quay: tram" # a name
sizes:
  long: 3

stock:
  beech: {wood: beech, form: board, thick: 3/4}
parts:
  side:
    from: beech
    work:
      - drill: {dia: 1/4, at: [1, 1],
          named: {hole: [2, 1]}}
      - round:
          by: 1/4
    lies:
  other:
    work:
    - drill:
build:
  - put: side
`;

const at = (before, text = toy) => {
  const i = text.indexOf(before);
  assert.ok(i >= 0, before);
  const p = placeAt(text, i + before.length);
  return [p.path.join(" "), p.at];
};

test("where a cursor is", () => {
  assert.deepEqual(at("dry"), ["", "key"]);
  assert.deepEqual(at("dryfit: 1"), ["dryfit", "value"]);
  assert.deepEqual(at('"Quay: tr'), ["toy", "value"]);
  assert.deepEqual(at("  lo"), ["sizes", "key"]);
  assert.deepEqual(at("long: 3"), ["sizes long", "value"]);
  assert.deepEqual(at("  bee"), ["stock", "key"]);
  assert.deepEqual(at("{wood: beech, fo"), ["stock beech", "key"]);
  assert.deepEqual(at("{wood: beech, form: bo"), ["stock beech form", "value"]);
  assert.deepEqual(at("from: "), ["parts side from", "value"]);
  assert.deepEqual(at("- dr"), ["parts side work []", "key"]);
  assert.deepEqual(at("at: [1, "), ["parts side work [] drill at []", "value"]);
  assert.deepEqual(at("          na"), ["parts side work [] drill", "key"]);
  assert.deepEqual(at("hole: [2, "), ["parts side work [] drill named hole []", "value"]);
  assert.deepEqual(at("- rou"), ["parts side work []", "key"]);
  assert.deepEqual(at("          b"), ["parts side work [] round", "key"]);
  assert.deepEqual(at("by: 1"), ["parts side work [] round by", "value"]);
  assert.deepEqual(at("work:\n    - drill"), ["parts other work []", "key"]); // a list as far left as its key
  assert.deepEqual(at("  - put: s"), ["build [] put", "value"]);
});

test("where a cursor is in what is not written yet", () => {
  assert.deepEqual(at("sizes:\n  ", "sizes:\n  "), ["sizes", "key"]);
  assert.deepEqual(at("    ", "parts:\n  side:\n    \n  other:\n"), ["parts side", "key"]);
  assert.deepEqual(at("- ", "parts:\n  side:\n    work:\n      - "), ["parts side work []", "key"]);
  assert.deepEqual(at("{", "stock:\n  beech: {"), ["stock beech", "key"]);
  assert.deepEqual(at("form: ", "stock:\n  beech: {form: "), ["stock beech form", "value"]);
  for (let i = 0; i <= toy.length; i++) placeAt(toy, i); // whatever the place
});

test("what may stand there, by the program's own schema", () => {
  const schema = JSON.parse(execFileSync(process.env.DRYFIT, ["schema"], { encoding: "utf8" }));
  const words = (path) => keysAt(schema, path).map((k) => k.word);
  assert.ok(words([]).includes("parts") && words([]).includes("build"));
  assert.ok(words(["parts", "side"]).includes("from"));
  assert.ok(words(["parts", "side", "work", "[]"]).includes("drill"));
  assert.ok(words(["parts", "side", "work", "[]", "drill"]).includes("dia"));
  assert.ok(words(["build", "[]"]).includes("put"));
  assert.ok(keysAt(schema, ["parts", "side"]).every((k) => k.says), "each key says what it is");
  assert.deepEqual(valuesAt(schema, ["stock", "beech", "form"]), ["board", "sheet", "dowel", "ball"]);
  assert.ok(takesFormula(schema, ["sizes", "long"]));
  assert.ok(!takesFormula(schema, ["toy"]));
  assert.match(explain(schema, ["stock", "beech", "form"]), /bought.*board, sheet/);
  assert.equal(explain(schema, ["nothing", "like it"]), "");
});
