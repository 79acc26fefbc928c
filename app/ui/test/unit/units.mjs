import assert from "node:assert/strict";
import test from "node:test";
import { filed, shown } from "../../src/draw/lengths.ts";
import { said } from "../../src/dryfit/units.ts";
import { saidText } from "../../src/units.ts";

const inch = 25.4; // mm: international yard and pound agreement, 1959

test("a length is shown as the trade writes it, and says when it is not quite that", () => {
  for (const [mm, units, want] of [
    [1.5 * inch, "inch", "1 1/2"], [inch / 64, "inch", "1/64"], [0, "inch", "0"], [-inch / 4, "inch", "-1/4"], [18, "inch", "≈ 45/64"],
    [18, "mm", "18"], [0.75 * inch, "mm", "19.05"], [inch / 64, "mm", "0.4"], [-3.175, "mm", "-3.18"], [28.575, "mm", "28.58"], [-0.001, "mm", "0"],
  ]) assert.equal(shown(mm, units), want, `${mm} in ${units}`);
  assert.equal(said(18, "inch"), "about 45/64 in");
});

test("what is drawn by the rule of another hand is filed with its unit", () => {
  const at = (own, hand) => ({ own, hand });
  assert.equal(filed(12, at("mm", "mm")), "12");
  assert.equal(filed(12, at("inch", "mm")), "12 mm");
  assert.equal(filed(1.5 * inch, at("mm", "inch")), "1 1/2 in");
  assert.equal(filed(1.5 * inch, at("inch", "inch")), "1 1/2");
  assert.equal(filed(0, at("inch", "mm")), "0");
});

test("the file's own text is shown with its units to one who has others", () => {
  const f = { text: "length - 3/8", said: "length - 3/8 in" };
  assert.equal(saidText(f, { own: "inch", hand: "inch" }), "length - 3/8");
  assert.equal(saidText(f, { own: "inch", hand: "mm" }), "length - 3/8 in");
});
