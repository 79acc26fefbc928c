// Every page for everyone: what axe-core finds, in both looks, and nothing wider than the window.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import test, { after, before } from "node:test";
import { Desk, until } from "./desk.mjs";

const axe = readFileSync(new URL("../../node_modules/axe-core/axe.min.js", import.meta.url), "utf8");
const toy = (page) => `#/toy/quay-tram.yaml/${page}`;
const pages = { shelf: "#/", draw: toy("draw"), "dry fit": toy("dry-fit"), stock: toy("stock"), steps: toy("steps"), patterns: toy("patterns"), others: toy("others"), file: toy("file") };

let desk, page;

before(async () => {
  desk = await Desk.with("quay-tram.yaml", "plain/ball-driver.yaml");
  page = await desk.window();
  await page.evaluate(axe);
});
after(() => desk.end());

for (const [name, at] of Object.entries(pages)) {
  test(name, async () => {
    await desk.go(page, at);
    await page.locator("main h1").first().waitFor();
    await until("the page to be at rest", async () => (await page.locator('main [aria-busy="true"]').count()) === 0 && (await page.locator("main .wait").count()) === 0);
    for (const look of ["light", "dark"]) {
      await page.locator(".look select").selectOption(look);
      const found = await page.evaluate(() => axe.run(document, { resultTypes: ["violations"] }));
      const says = found.violations.map((v) => `${look}: ${v.id}: ${v.help}: ${v.nodes.map((n) => n.target.join(" ") + " " + (n.any[0]?.message ?? "")).slice(0, 3).join("; ")}`);
      assert.deepEqual(says, []);
    }
    for (const [width, height] of [[1280, 800], [1024, 768], [640, 400]]) { // the last is 1280 at 200 %
      await page.setViewportSize({ width, height });
      const wide = await page.evaluate(() => [document.documentElement, ...document.querySelectorAll("main, main > *, aside, .side > *, .bar")].filter((e) => e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== "inline").map((e) => `${e.tagName} ${e.className} ${e.scrollWidth} > ${e.clientWidth}`));
      assert.deepEqual(wide, [], `at ${width} by ${height}`);
    }
    await page.setViewportSize({ width: 1280, height: 800 });
  });
}
