// Draw: a hole that is moved finds equal spacing, by pointer and by keys.

import assert from "node:assert/strict";
import test, { after, before } from "node:test";
import { Desk, until } from "./desk.mjs";

const file = "rack.yaml";
const text = `dryfit: 1
toy: Peg rack
units: inch
stock:
  board: {wood: beech, form: board, thick: 3/4}
parts:
  rack: {from: board, blank: [6, 2], work: [{drill: {side: face, dia: 1/4, named: {one: [1, 1], two: [2 1/2, 1], last: [4 5/8, 1/2]}}}]}
build:
  - put: rack
`;
let desk, page;

before(async () => {
  desk = await Desk.with();
  desk.write(file, text);
  page = await desk.window(`#/toy/${file}/draw`);
  await page.locator("svg.sheet .handle").first().waitFor();
});
after(() => desk.end());

const last = () => page.locator("svg.sheet").getByRole("button", { name: /hole last/ });

test("dragged, it goes as far again as its neighbours are apart, with two equal marks", async () => {
  const spot = (x, y) => page.locator('g[data-side="top"]').evaluate((g, [x, y]) => {
    const p = new DOMPoint(x * 25.4, y * 25.4).matrixTransform(g.getScreenCTM());
    return [p.x, p.y];
  }, [x, y]);
  await page.mouse.move(...(await spot(4.625, 0.5)));
  await page.mouse.down();
  await page.mouse.move(...(await spot(4.02, 0.6)), { steps: 4 });
  await until("the marks", async () => (await page.locator(".sheet .equal").count()) === 2);
  assert.deepEqual(await page.locator(".sheet .equal text").evaluateAll((t) => t.map((x) => x.textContent)), ["1 1/2", "1 1/2"]);
  await page.getByRole("status").getByText("equal spacing 1 1/2 in across").waitFor();
  await page.mouse.up();
  await until("the file", () => /last: \[4, 5\/8\]/.test(desk.read(file))); // the paper has not moved, though the hint is gone
  await until("no marks", async () => (await page.locator(".sheet .equal").count()) === 0);
});

test("by keys it is found and said, too", async () => {
  await last().focus();
  await page.keyboard.press("ArrowRight");
  await until("the step", () => /last: \[4 1\/16, /.test(desk.read(file)));
  assert.equal(await page.locator(".sheet .equal").count(), 0);
  await page.keyboard.press("ArrowLeft");
  await page.getByRole("status").getByText("equal spacing 1 1/2 in across").waitFor();
  assert.equal(await page.locator(".sheet .equal").count(), 2);
  await until("the file", () => /last: \[4, /.test(desk.read(file)));
});
