// Pictures of every page for docs/app.md: node app/ui/test/screens.mjs [OUT]. It opens the examples as
// a user does, at three sizes and in both looks; what it takes is looked at before it is committed.

import { mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { Desk } from "./browser/desk.mjs";

const root = join(dirname(fileURLToPath(import.meta.url)), "../../..");
const out = process.argv[2] ?? join(root, "docs/pictures/app");
process.env.DRYFIT ??= join(root, "bin/dryfit");

const sizes = [[1280, 800], [1920, 1080], [1024, 768]];
const tram = "#/toy/quay-tram.yaml/";
const pages = [
  ["shelf", "#/", ".cards li:nth-child(2) img"],
  ["draw-part", tram + "draw", ".sheet"],
  ["draw-toy", tram + "draw", ".parts .whole", (p) => p.locator(".parts .whole").click()],
  ["dry-fit", tram + "dry-fit", ".scene canvas"],
  ["stock", tram + "stock", "#boards-head", (p) => p.getByRole("button", { name: "Lay out" }).click()],
  ["steps", tram + "steps", "main img"],
  ["patterns", tram + "patterns", "main img"],
  ["others", tram + "others", "#builds-head", (p) => built(p)],
  ["file", tram + "file", ".cm-content"],
];

mkdirSync(out, { recursive: true });
const desk = await Desk.with("quay-tram.yaml", "tipping-wagon.yaml", "shop/quay-lane.yaml");
try {
  for (const look of ["light", "dark"]) {
    for (const [width, height] of look === "light" ? sizes : sizes.slice(0, 1)) {
      const page = await desk.window("#/", { width, height });
      await page.emulateMedia({ colorScheme: look, reducedMotion: "reduce" });
      for (const [name, at, shows, first] of pages) {
        await desk.go(page, at);
        await page.locator(shows).first().waitFor();
        if (first) await first(page);
        await settled(page);
        const size = look === "light" ? `${width}x${height}` : "dark";
const shot = await (await page.context().newCDPSession(page)).send("Page.captureScreenshot", { format: "webp", quality: 70 });
        writeFileSync(join(out, `${name}-${size}.webp`), shot.data, "base64");
      }
      await page.context().close();
    }
  }
} finally {
  await desk.end();
}

/** built makes virtual builds and waits for all of them. */
async function built(page) {
  await page.getByLabel("Builds", { exact: true }).fill("300");
  await page.getByRole("button", { name: "Build", exact: true }).click();
  await page.waitForSelector("text=All builds are made.", { timeout: 120_000 });
}

/** settled waits until nothing on the page is still being worked out. */
async function settled(page) {
  await page.waitForFunction(() => !document.querySelector("[aria-busy=true], main > .wait") && [...document.images].every((i) => i.complete || i.loading === "lazy"));
  await page.waitForTimeout(600); // what is drawn after it came in
}
