// A folder of toys, the program on it, and a browser that looks at it.

import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright-core";

const examples = new URL("../../../../examples/", import.meta.url).pathname;

/** patience is how long a page may take on a busy machine, in ms. */
export const patience = 15_000;

export class Desk {
  place = mkdtempSync(join(tmpdir(), "dryfit-app-"));
  folder = join(this.place, "quay-lane");
  errors = [];

  static async with(...toys) {
    const d = new Desk();
    mkdirSync(d.folder);
    for (const t of toys) cpSync(examples + t, join(d.folder, t.split("/").pop()), { recursive: true });
    await d.start();
    d.browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--no-sandbox"] });
    return d;
  }

  /** start starts the program; it goes on with the folder as it is. */
  async start() {
    this.program = spawn(process.env.DRYFIT, ["open", this.folder, "--no-browser"], { stdio: ["ignore", "pipe", "inherit"] });
    this.address = await new Promise((found, ended) => {
      let said = "";
      this.program.stdout.on("data", (b) => {
        const m = /http:\S+/.exec((said += b));
        if (m) found(m[0]);
      });
      this.program.once("exit", () => ended(new Error("the program ended: " + said)));
    });
  }

  /** kill ends the program as a crash does. */
  async kill() {
    const gone = new Promise((r) => this.program.once("exit", r));
    this.program.kill("SIGKILL");
    await gone;
  }

  /** window opens a page of its own, as another window of the one at the desk. */
  async window(at = "#/", { width = 1280, height = 800 } = {}) {
    const context = await this.browser.newContext({ viewport: { width, height }, reducedMotion: "reduce" });
    const page = await context.newPage();
    page.setDefaultTimeout(patience);
    page.on("pageerror", (e) => this.errors.push("thrown: " + e.message));
    page.on("console", (m) => {
      // What a test brings about: a program that is gone, a change that is refused.
      if (m.type() === "error" && !/ERR_CONNECTION_REFUSED|ERR_INCOMPLETE_CHUNKED|ERR_EMPTY_RESPONSE|ERR_CONNECTION_RESET|status of 4/.test(m.text())) this.errors.push("console: " + m.text());
    });
    await page.goto(this.address);
    await page.locator(".shelf h1").waitFor();
    await this.go(page, at);
    return page;
  }

  async go(page, at) {
    await page.evaluate((h) => void (location.hash = h), at);
  }

  read(name) {
    return readFileSync(join(this.folder, name), "utf8");
  }

  write(name, text) {
    writeFileSync(join(this.folder, name), text);
  }

  /** end shuts everything, and tells whether the pages had errors. */
  async end() {
    await this.browser.close();
    await this.kill();
    rmSync(this.place, { recursive: true });
    assert.deepEqual(this.errors, [], "errors of the pages");
  }
}

/** until waits for something to be so; shows is what there is to see where it never is. */
export async function until(what, is, shows = () => "") {
  const late = Date.now() + patience;
  for (;;) {
    const so = await is();
    if (so) return so;
    if (Date.now() > late) assert.fail("waited in vain for " + what + "\n" + (await shows()));
    await new Promise((r) => setTimeout(r, 50));
  }
}
