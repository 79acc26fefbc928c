// The first visit: each page says in place what can be done there first, until it is done or sent
// away; and what the toy as a whole says of itself.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import test, { after, before } from "node:test";
import { Desk, until } from "./desk.mjs";

const axe = readFileSync(new URL("../../node_modules/axe-core/axe.min.js", import.meta.url), "utf8");
const file = "quay-tram.yaml";
const toy = (page) => `#/toy/${file}/${page}`;
let desk, page;

before(async () => {
  desk = await Desk.with(file, "shop");
  page = await desk.window(toy("draw"));
  await page.evaluate(axe);
});
after(() => desk.end());

const hint = (says) => page.locator(".hint", { hasText: says });
const gone = (what, says) => until(what, async () => (await hint(says).count()) === 0);
async function clean() {
  const found = await page.evaluate(() => axe.run(document, { resultTypes: ["violations"] }));
  assert.deepEqual(found.violations.map((v) => v.id + ": " + v.nodes.map((n) => n.target.join(" ")).join("; ")), []);
}

test("Draw: a part, and where it sits; gone once it is done", async () => {
  await hint("Drag a corner").waitFor();
  await clean();
  await hint("Open a line").waitFor();
  await page.locator(".build .plain").first().click(); // frame is open already: shut it
  await gone("the line that was opened", "Open a line");
  await page.locator("#size-wheel").fill("1 1/4");
  await page.locator("#size-wheel").press("Enter");
  await gone("the change", "Drag a corner");
  await page.getByRole("button", { name: "Undo", exact: true }).click();
});

test("Dry fit, Stock and Patterns: sent away for good, in this browser", async () => {
  await desk.go(page, toy("dry-fit"));
  await hint("Choose a finding").waitFor();
  await page.getByRole("button", { name: /Show what holds/ }).click();
  await page.locator(".finding .plain").first().click();
  await gone("the finding that was chosen", "Choose a finding");
  await desk.go(page, toy("stock"));
  await hint("commonly sold").waitFor();
  await page.getByLabel("Shop").selectOption("shop/quay-lane.yaml");
  await gone("the shop that was chosen", "commonly sold");
  await desk.go(page, toy("patterns"));
  await hint("100 %").getByRole("button", { name: "I see" }).click();
  await gone("what was sent away", "Print one page");
  await page.reload();
  await page.evaluate(axe);
  await page.locator(".desk img").waitFor();
  assert.equal(await page.locator(".hint").count(), 0);
  await desk.go(page, toy("draw"));
  await page.locator("svg.sheet").waitFor();
  assert.equal(await page.locator(".hint").count(), 0);
});

test("the toy as a whole: edition, ages and note are changed beside it", async () => {
  await page.getByRole("button", { name: "The whole toy, from the side" }).click();
  const about = page.getByRole("region", { name: "The toy" });
  const set = async (name, value) => {
    await about.getByLabel(name).fill(value);
    await page.keyboard.press("Tab");
  };
  await set("edition", "3");
  await until("the edition", () => /^edition: 3$/m.test(desk.read(file)));
  await set("note", "For the shelf.\nPaint it last: twice.");
  await until("the note", () => desk.read(file).includes('\nnote: "For the shelf.\\nPaint it last: twice."\n'));
  await set("ages", "4 and up");
  await until("the ages", () => /^ages: 4 and up/m.test(desk.read(file)));
  await set("licence", "");
  await set("name", "");
  await page.getByText("A toy has to have a name.").waitFor();
  assert.match(desk.read(file), /^toy: Quay tram/m);
  await clean();
  await desk.go(page, "#/");
  await page.locator(".card").getByText("edition 3").waitFor();
});

test("a file with nothing in it yet says what a toy has", async () => {
  desk.write("empty.yaml", "dryfit: 1\ntoy: Nothing yet\nunits: mm\nstock: {}\nparts: {}\nbuild: []\n");
  await desk.go(page, "#/toy/empty.yaml/draw");
  await page.getByText("There is nothing to draw yet").waitFor();
  await clean();
});

test("a toy is taken off the shelf, and brought back", async () => {
  const desk = await Desk.with("quay-tram.yaml", "tipping-wagon.yaml");
  try {
    const page = await desk.window();
    const wagon = page.locator(".card", { hasText: "Tipping wagon" });
    await wagon.getByRole("button", { name: "Copy, rename or take away" }).click();
    await wagon.getByRole("button", { name: "Take it off the shelf" }).click();
    await page.waitForSelector("text=Tipping wagon is off the shelf; its file is", { timeout: 30_000 });
    await wagon.waitFor({ state: "detached", timeout: 30_000 });
    await page.getByRole("button", { name: "Bring Tipping wagon back" }).focus();
    await page.keyboard.press("Enter");
    await wagon.waitFor({ timeout: 30_000 });
    assert.match(desk.read("tipping-wagon.yaml"), /toy: Tipping wagon/);
  } finally {
    await desk.end();
  }
});
