// What comes of a toy on paper.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { patience } from "./desk.mjs";

/** printed takes the patterns of a toy away, by pressing their button, and sees what is on them. */
export async function printed(page, press, names) {
  const [file] = await Promise.all([page.waitForEvent("download", { timeout: patience }), press()]);
  const path = await file.path();
  execFileSync("qpdf", ["--check", path], { stdio: "pipe" });
  const text = execFileSync("pdftotext", ["-layout", path, "-"], { encoding: "utf8" });
  for (const n of names) assert.ok(text.includes(n), `the patterns say ${n}`);
}
