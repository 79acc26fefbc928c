// What is made of a toy, in the browser: lists in a shop, boards laid and stopped, steps with their
// drawings and a plan, patterns made up for a printer, files taken away. open goes to a page of a
// toy: open(file, page). The folder has quay-tram.yaml and shop/quay-lane.yaml of the examples.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";

const soon = { timeout: 60_000 }; // on a machine that has other work

export default async function ({ page, open }) {
  await open("quay-tram.yaml", "stock");
  await page.waitForSelector(".list", soon);
  await page.getByLabel("Shop").selectOption("shop/quay-lane.yaml");
  await page.getByLabel("How many toys").fill("40");
  await page.waitForSelector("text=Short in shop/quay-lane.yaml", soon);
  await page.getByLabel("Seconds").fill("30");
  await page.getByRole("button", { name: "Lay out", exact: true }).click();
  await page.waitForSelector(".leaf img", soon);
  await page.getByRole("button", { name: "Stop", exact: true }).click();
  await page.waitForSelector("text=Stopped; this is the best so far.", soon);
  assert.ok((await page.locator(".leaf img").count()) > 2, "boards are drawn");
  await page.getByLabel("How many toys").fill("2");
  await page.waitForSelector("text=of another count, shop or unit", soon);
  await saved(page, "Pages to mark out by (PDF)", "quay-tram-boards.pdf", "%PDF-");

  await open("quay-tram.yaml", "steps");
  await page.waitForSelector(".step .drawing img", soon);
  await page.getByRole("button", { name: "Add a child" }).click();
  await page.getByLabel("Age of the child").fill("9");
  await page.waitForSelector(".figures >> text=child, 9", soon);
  await page.getByLabel("Worked in one go").selectOption("2h");
  await page.waitForSelector("text=Day 2", soon);
  await page.getByRole("button", { name: "To step 1", exact: true }).first().click();
  assert.equal(await page.evaluate(() => document.activeElement?.id), "step-1");

  await open("quay-tram.yaml", "patterns");
  await page.waitForSelector(".print", soon);
  const letter = await page.locator(".print").getAttribute("alt");
  assert.match(letter, /215\.9 by 279\.4 mm/);
  await page.getByLabel("Shown").selectOption("1");
  const wide = await page.locator(".print").evaluate((e) => e.clientWidth);
  assert.ok(Math.abs(wide - (215.9 / 25.4) * 96) < 0.5, "a page is shown at its true size, not " + wide);
  await page.getByLabel("Across the page").fill("98.6");
  await page.getByLabel("Across the page").press("Enter");
  await page.waitForSelector("text=101.42 %", soon);
  await page.getByLabel("Across the page").fill("42");
  await page.getByLabel("Across the page").press("Enter");
  await page.waitForSelector("text=expected from 90 to 110 mm", soon);
  await saved(page, "Patterns (PDF)", "quay-tram-patterns.pdf", "%PDF-");
  await saved(page, "Outlines (DXF)", "quay-tram-outlines-dxf.zip", "PK");
}

/** saved takes a file away and sees that it is what its name says. */
async function saved(page, button, name, begins) {
  const [file] = await Promise.all([page.waitForEvent("download", soon), page.getByRole("button", { name: button }).click()]);
  assert.equal(file.suggestedFilename(), name);
  assert.ok(readFileSync(await file.path()).toString("latin1").startsWith(begins), name);
}
