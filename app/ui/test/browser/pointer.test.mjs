// A new toy from nothing to printed patterns with the pointer; only names and lengths are typed.

import assert from "node:assert/strict";
import test, { after, before } from "node:test";
import { Desk, until } from "./desk.mjs";
import { printed } from "./printed.mjs";

const file = "harbour-cart.yaml";
let desk, page;

before(async () => {
  desk = await Desk.with();
  page = await desk.window();
});
after(() => desk.end());

const says = (what, re) => until(what, () => re.test(desk.read(file)));
const button = (name) => page.getByRole("button", { name, exact: true });
const proved = () => page.locator('.findings[aria-busy="false"]').waitFor();

/** spot is where a place of a side of the blank is on the screen, in mm from its lower left. */
function spot(side, x, y) {
  return page.locator(`svg.sheet [data-side=${side}]`).evaluate((g, [x, y]) => {
    const p = new DOMPoint(x, y).matrixTransform(g.getScreenCTM());
    return [p.x, p.y];
  }, [x, y]);
}

/** beside is where a place is on the screen in the side view, in mm from the lower back of the frame. */
function beside(x, z) {
  return page.locator('[aria-label^="frame:"] .touch').evaluate((r, [x, z]) => {
    const b = r.getBBox(), p = new DOMPoint(b.x + x, b.y + b.height - z).matrixTransform(r.getScreenCTM());
    return [p.x, p.y];
  }, [x, z]);
}

async function drag(from, to) {
  await page.mouse.move(...from);
  await page.mouse.down();
  await page.mouse.move((from[0] + to[0]) / 2, (from[1] + to[1]) / 2);
  await page.mouse.move(...to);
  await page.mouse.up();
}

test("the questions of the shelf make a toy that holds", async () => {
  await page.getByLabel("What is it called?").click();
  await page.keyboard.type("Harbour cart");
  await page.getByLabel("millimetres").click();
  await button("Make it").click();
  await page.locator("svg.sheet").waitFor();
  assert.match(desk.read(file), /^toy: Harbour cart\nunits: mm\n/m);
  await proved();
  assert.match(await page.locator(".findings .sum").innerText(), /^\d+ hold$/);
});

test("a corner is dragged, a hole drilled, an opening cut out", async () => {
  await page.mouse.click(...(await spot("top", 60, 40)));
  await page.locator(".work .on", { hasText: "saw along a line" }).waitFor();
  await drag(await spot("top", 0, 40), await spot("top", 6, 40));
  await says("the corner", /\[6, width, r 1\.5\]/);
  await button("Drill").click();
  await page.mouse.click(...(await spot("top", 75, 20)));
  await says("the hole", /drill: \{side: face, dia: dowel, named: \{hole-1: \[75, 20\]\}\}/);
  await page.locator(".parts").getByRole("button", { name: "cabin" }).click();
  await page.getByRole("heading", { name: "Draw cabin" }).waitFor();
  await button("Cut out").click();
  await drag(await spot("right", 14, 6), await spot("right", 26, 13));
  await says("the opening", /cut-out: \{side: edge, outline: \{rect: \[14, 6\], size: \[12, 7\], r: 3\}\}/);
});

test("a finger can hit what is dragged, and the paper keeps its place when a tool is taken", async () => {
  await page.setViewportSize({ width: 1024, height: 768 });
  await page.locator(".parts").getByRole("button", { name: "frame" }).click();
  await page.mouse.click(...(await spot("top", 60, 40)));
  for (const what of ["corner", "between"]) {
    const hit = await page.locator(`.sheet .${what} .reach`).first().evaluate((g) => {
      const b = g.getBoundingClientRect(), x = b.x + b.width / 2, y = b.y + b.height / 2, finger = 24; // px across
      return [[-1, 0], [1, 0], [0, -1], [0, 1]].every(([i, j]) => g.parentElement.contains(document.elementFromPoint(x + (i * finger) / 2, y + (j * finger) / 2)));
    });
    assert.ok(hit, what + " is 24 px across");
  }
  const paper = () => page.locator("svg.sheet").boundingBox();
  const was = await paper();
  for (const name of ["Drill", "Cut out", "Notch", "Groove", "Saw a line"]) {
    await button(name).click();
    await page.getByText(/(Click|Drag) .* Enter/).waitFor();
    assert.deepEqual(await paper(), was, name);
  }
  await page.keyboard.press("Escape");
  await page.setViewportSize({ width: 1280, height: 800 });
});

test("a new part is outlined on the toy, wheels are put on it", async () => {
  await button("The whole toy, from the side").click();
  await button("Outline of a new part").click();
  for (const at of [[90, 18], [112, 18], [112, 38], [90, 38], [90, 18]]) await page.mouse.click(...(await beside(...at)));
  await page.getByRole("heading", { name: "Draw part-1" }).waitFor();
  await says("the part", /part-1: \{from: board, blank: \[22, 20\]/);
  await says("its place", /put: part-1, sits: \{back: frame\.back \+ 90, bottom: frame\.top, middle: frame\.middle\}, glued: yes/);
  await button("The whole toy, from the side").click();
  await button("Wheels").click();
  await page.mouse.click(...(await beside(60, 8)));
  await says("the wheels", /wheels: \{in: frame\.axle-1, axle: axle, outward: \[wheel\]/);
  await says("their hole", /named: \{axle-1: \[60, 8\]\}/);
});

test("a size makes a finding, the toy is mended on Dry fit", async () => {
  await page.locator("#size-wheel").click({ clickCount: 3 });
  await page.keyboard.type("16\n");
  await says("the size", /wheel: 16\b/);
  await page.getByRole("link", { name: "Dry fit" }).click();
  await proved();
  const drags = page.locator(".finding", { hasText: "frame drags on the floor" });
  await drags.getByRole("button", { name: "Find a mend" }).click();
  await drags.getByRole("button", { name: /^Mend: / }).click();
  await until("the mend", async () => (await drags.count()) === 0 && (await page.locator('.findings[aria-busy="false"]').count()) === 1);
  assert.match(await page.locator(".findings .sum").innerText(), /^\d+ hold$/);
});

test("the patterns are printed", async () => {
  await page.getByRole("link", { name: "Patterns" }).click();
  await page.locator(".print").waitFor();
  await printed(page, () => page.getByRole("button", { name: "Patterns (PDF)" }).click(), ["Harbour cart", "part 1"]);
});
