// How long the app takes on a toy of forty pieces, as the browser sees it: node app/ui/test/speed.mjs
// [EDITS]. It prints first paint, the time from an edit to the quick findings on screen and to all of
// them, frames a second while the toy turns, and how large the bundle is. Nothing is asserted: figures
// are written into docs/measures.md by hand.

import { spawn } from "node:child_process";
import { copyFileSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { brotliCompressSync, gzipSync } from "node:zlib";
import { chromium } from "playwright-core";

const here = dirname(fileURLToPath(import.meta.url));
const root = join(here, "../../..");
const edits = Number(process.argv[2] ?? 40);

const folder = mkdtempSync(join(tmpdir(), "dryfit-speed-"));
copyFileSync(join(here, "train.yaml"), join(folder, "train.yaml"));
const program = spawn(join(root, "bin/dryfit"), ["open", folder, "--no-browser"]);
const address = await new Promise((found, failed) => {
  let said = "";
  program.stdout.on("data", (b) => {
    said += b;
    const a = said.match(/http:\S+/);
    if (a) found(a[0]);
  });
  program.on("exit", () => failed(new Error("dryfit ended: build it with make build")));
});
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox"] });
try {
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
  await page.goto(address);
  await page.waitForSelector(".cards .badge");
  await page.reload();
  await page.waitForSelector(".cards img");
  const paint = await page.evaluate(() => performance.getEntriesByName("first-contentful-paint")[0].startTime);
  await page.click(".cards a");
  await page.waitForSelector(".findings[aria-busy=false]");
  await page.waitForSelector(".scene canvas");
  const quick = [], all = [];
  for (let i = 0; i < edits; i++) {
    const t = await page.evaluate(edit, String(60 + 0.5 * (1 + (i % 7))));
    quick.push(t.quick);
    all.push(t.all);
  }
  const frames = await page.evaluate(turning, 3000);
  const js = readFileSync(join(root, "app/ui/dist/app.js"));
  console.log(`first paint          ${paint.toFixed(0)} ms`);
  console.log(`edit to quick        ${of(quick, 0.5)} ms median, ${of(quick, 0.95)} ms 95th of 100   (${edits} edits)`);
  console.log(`edit to all          ${of(all, 0.5)} ms median, ${of(all, 0.95)} ms 95th of 100`);
  console.log(`frames while turning ${frames.toFixed(0)} a second, drawn without a GPU`);
  console.log(`bundle               ${kB(js.length)} kB, ${kB(gzipSync(js, { level: 9 }).length)} kB gzip, ${kB(brotliCompressSync(js).length)} kB brotli`);
} finally {
  await browser.close();
  program.kill();
  rmSync(folder, { recursive: true });
}

/** edit types a value and waits, in the page, for the findings of it to be on screen. */
async function edit(value) {
  const findings = document.querySelector(".findings");
  const input = document.querySelector("#size-roof");
  const was = findings.dataset.hash;
  input.focus();
  input.value = value;
  input.dispatchEvent(new InputEvent("input", { bubbles: true }));
  await new Promise(requestAnimationFrame);
  const begun = performance.now();
  input.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter", bubbles: true }));
  const until = (right) => new Promise((done) => {
    const look = () => {
      if (findings.dataset.hash !== was && right()) done(performance.now() - begun);
      else requestAnimationFrame(look);
    };
    look();
  });
  const quick = await until(() => findings.dataset.quick === "true");
  const all = await until(() => findings.getAttribute("aria-busy") === "false");
  return { quick, all };
}

/** turning turns the toy by keys for some ms and counts the frames that were drawn. */
async function turning(ms) {
  const scene = document.querySelector(".scene");
  const begun = performance.now();
  const from = Number(scene.dataset.drawn);
  while (performance.now() - begun < ms) {
    scene.dispatchEvent(new KeyboardEvent("keydown", { key: "ArrowLeft", bubbles: true }));
    await new Promise(requestAnimationFrame);
  }
  return (1000 * (Number(scene.dataset.drawn) - from)) / (performance.now() - begun);
}

function of(list, share) {
  const sorted = [...list].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))].toFixed(0);
}

function kB(n) {
  return (n / 1000).toFixed(0);
}
