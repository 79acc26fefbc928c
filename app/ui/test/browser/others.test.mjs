// The toy in other hands: virtual builds made and stopped, the toy adapted and kept, compared with an
// older edition; with pointer and with keyboard alone.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import test, { after, before } from "node:test";
import { Desk } from "./desk.mjs";

const axe = readFileSync(new URL("../../node_modules/axe-core/axe.min.js", import.meta.url), "utf8");
const soon = { timeout: 90_000 }; // on a machine that has other work
let desk, page;

before(async () => {
  desk = await Desk.with("quay-tram.yaml", "shop/quay-lane.yaml");
  page = await desk.window();
});
after(() => desk.end());

test("virtual builds are told as they are made, and stop", async () => {
  await desk.go(page, "#/toy/quay-tram.yaml/others");
  await page.getByLabel("Builders").selectOption("first time");
  await page.getByLabel("Builds", { exact: true }).fill("10000");
  await page.getByRole("button", { name: "Build", exact: true }).click();
  await page.waitForSelector("text=/It works in .* virtual builds/", soon);
  await page.getByRole("button", { name: "Stop", exact: true }).click();
  await page.waitForSelector("text=Stopped; this is what was found until then.", soon);
  await page.getByLabel("Builders").selectOption("fair");
  await page.getByLabel("Builds", { exact: true }).fill("60");
  await page.getByRole("button", { name: "Build", exact: true }).focus();
  await page.keyboard.press("Enter");
  await page.waitForSelector("text=All builds are made.", soon);
  await page.waitForSelector("text=/of 60 virtual builds/", soon);
  await page.waitForSelector("text=Loosen first:", soon);
  assert.ok((await page.locator(".others tbody tr").count()) > 0, "what fails is told");
  await sound("builds");
});

test("the toy is adapted, and kept as another", async () => {
  await page.getByLabel("Dowel").fill("7 yards");
  await page.getByRole("button", { name: "Adapt", exact: true }).click();
  await page.waitForSelector(".others .standing.bad", soon);
  await page.getByLabel("Dowel").fill("6mm");
  await page.getByLabel("Boards").fill("beech=18mm");
  await page.getByLabel("Boards").press("Enter");
  await page.waitForSelector("pre[aria-label='What changes']", soon);
  assert.match(await page.locator("pre[aria-label='What changes']").innerText(), /18 mm/);
  await sound("adapted");
  await page.getByRole("button", { name: "Keep as a toy of its own" }).click();
  await page.waitForFunction(() => location.hash.includes("adapted"), null, soon);
  const kept = desk.read("quay-tram-adapted.yaml");
  assert.match(kept, /18 mm/);
  assert.match(kept, /# /, "comments stay");
});

test("two editions are compared", async () => {
  await desk.go(page, "#/toy/quay-tram-adapted.yaml/others");
  await page.getByLabel("The older one").selectOption("quay-tram.yaml");
  await page.getByRole("button", { name: "Compare", exact: true }).focus();
  await page.keyboard.press("Space");
  await page.waitForSelector("pre[aria-label='What changed']", soon);
  await page.waitForSelector("figure.leaf img", soon);
  await sound("compared");
});

/** sound asks axe-core of the page as it is, in both looks. */
async function sound(what) {
  for (const colorScheme of ["light", "dark"]) {
    await page.emulateMedia({ colorScheme });
    await page.evaluate(axe);
    const found = await page.evaluate(() => axe.run(document, { resultTypes: ["violations"] }));
    assert.deepEqual(found.violations.map((v) => v.id + ": " + v.nodes.map((n) => n.html).join(" | ")), [], `${what}, ${colorScheme}`);
  }
  await page.emulateMedia({ colorScheme: "light" });
}
