// A new toy from nothing to printed patterns with the keyboard alone.

import assert from "node:assert/strict";
import test, { after, before } from "node:test";
import { Desk, until } from "./desk.mjs";
import { printed } from "./printed.mjs";

const file = "harbour-cart.yaml";
let desk, page, keys;

before(async () => {
  desk = await Desk.with();
  page = await desk.window();
  keys = page.keyboard;
});
after(() => desk.end());

const says = (what, re) => until(what, () => re.test(desk.read(file)));
const heading = (name) => page.getByRole("heading", { name, exact: true }).waitFor();
const proved = () => until("the proof", async () => (await page.locator('.findings[aria-busy="false"]').count()) === 1);

/** named is what a screen reader calls the element that has the keys. */
const named = () => page.evaluate(() => {
  const e = document.activeElement;
  return (e.getAttribute("aria-label") ?? e.labels?.[0]?.textContent ?? e.textContent ?? "").trim().replace(/\s+/g, " ");
});

/** reach goes on with Tab, or back with Shift+Tab, to what is called so. */
async function reach(name, key = "Tab") {
  const passed = [];
  for (let n = 0; n < 120; n++) {
    await keys.press(key);
    const at = await named();
    if (name.test(at)) return;
    passed.push(at);
  }
  assert.fail(`${key} does not reach ${name}: ${passed.join(" | ")}`);
}
const back = (name) => reach(name, "Shift+Tab");

async function times(n, key) {
  for (let i = 0; i < n; i++) await keys.press(key);
}

/** moved moves a mark by so many marks of the rule, right and up. */
async function moved(right, up) {
  for (const [by, more, less] of [[right, "ArrowRight", "ArrowLeft"], [up, "ArrowUp", "ArrowDown"]]) {
    const key = by > 0 ? more : less, n = Math.abs(by);
    await times(Math.floor(n / 4), "Shift+" + key);
    await times(n % 4, key);
  }
}

/** placed brings the mark to a place, by what is said of where it is. */
async function placed(along, up) {
  const [, x, y] = /^(\S+) along, (\S+) up$/.exec(await until("the mark", () => page.locator(".paper p[role=status]").innerText()));
  await moved(along - x, up - y);
}

/** take takes the tool that has the keys into the hand. */
async function take(key) {
  await keys.press(key);
  await page.locator('.tools [aria-pressed="true"]').waitFor();
}

test("the questions of the shelf make a toy that holds", async () => {
  await reach(/^What is it called/);
  await keys.type("Harbour cart");
  await reach(/^inches/);
  await keys.press("ArrowDown");
  await keys.press("Enter"); // as a form is sent
  await heading("Draw frame");
  assert.match(desk.read(file), /^toy: Harbour cart\nunits: mm\n/m);
  await proved();
  assert.match(await page.locator(".findings .sum").innerText(), /^\d+ hold$/);
});

test("a corner is moved, a hole drilled, an opening cut out", async () => {
  await reach(/^2\. saw along a line/);
  await keys.press("Enter");
  await back(/^corner 4 of frame/);
  await moved(6, 0);
  await says("the corner", /\[6, width, r 1\.5\]/);
  await keys.press("Control+z");
  await says("the undo of all of it", /\[0, width, r 1\.5\]/);
  await keys.press("Control+y");
  await says("the redo", /\[6, width, r 1\.5\]/);
  await back(/^Drill$/);
  await take("Enter");
  await moved(15, 0); // from the middle
  await keys.press("Enter");
  await says("the hole", /drill: \{side: face, dia: dowel, named: \{hole-1: \[75, 20\]\}\}/);
  await back(/^cabin/);
  await keys.press("Enter");
  await heading("Draw cabin");
  await reach(/^Cut out$/);
  await take("Space");
  await keys.press("PageDown"); // from the face to the edge
  await moved(-10, -3);
  await keys.press("Enter");
  await moved(12, 7);
  await keys.press("Enter");
  await says("the opening", /cut-out: \{side: edge, outline: \{rect: \[14, 6\], size: \[12, 7\], r: 3\}\}/);
});

test("a new part is outlined on the toy, wheels are put on it", async () => {
  await back(/^The whole toy/);
  await keys.press("Enter");
  await heading("Draw the whole toy");
  await reach(/^Outline of a new part$/);
  await take("Enter");
  await keys.press("ArrowRight");
  await placed(90, 18);
  for (const [right, up] of [[0, 0], [22, 0], [0, 20], [-22, 0]]) {
    await moved(right, up);
    await keys.press("Enter");
  }
  await keys.press("Enter");
  await heading("Draw part-1");
  await says("the part", /part-1: \{from: board, blank: \[22, 20\]/);
  await says("its place", /put: part-1, sits: \{back: frame\.back \+ 90, bottom: frame\.top, middle: frame\.middle\}, glued: yes/);
  await back(/^The whole toy/);
  await keys.press("Enter");
  await reach(/^Wheels$/);
  await take("Enter");
  await keys.press("ArrowRight");
  await placed(60, 8);
  await keys.press("Enter");
  await says("the wheels", /wheels: \{in: frame\.axle-1, axle: axle, outward: \[wheel\]/);
  await says("their hole", /named: \{axle-1: \[60, 8\]\}/);
});

test("a size makes a finding, the toy is mended on Dry fit", async () => {
  await reach(/^wheel$/);
  await keys.press("Control+a");
  await keys.type("16");
  await keys.press("Enter");
  await says("the size", /wheel: 16\b/);
  await back(/^Dry fit$/);
  await keys.press("Enter");
  await heading("Findings");
  await proved();
  const drags = page.locator(".finding", { hasText: "frame drags on the floor" });
  await until("the finding", async () => (await drags.count()) === 1);
  await reach(/^Find a mend$/);
  await keys.press("Enter");
  await drags.getByRole("button", { name: /^Mend: / }).waitFor();
  await reach(/^Mend: wheel 16/);
  await keys.press("Enter");
  await until("the mend", async () => (await drags.count()) === 0 && (await page.locator('.findings[aria-busy="false"]').count()) === 1);
  assert.match(await page.locator(".findings .sum").innerText(), /^\d+ hold$/);
});

test("the patterns are printed", async () => {
  await back(/^Patterns$/);
  await keys.press("Enter");
  await page.locator(".print").waitFor();
  await reach(/^Patterns \(PDF\)/);
  await printed(page, () => keys.press("Enter"), ["Harbour cart", "part 1"]);
});
