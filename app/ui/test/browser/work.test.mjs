// The way through the app: the shelf, a toy, one length changed, its findings and its picture;
// undone, done again, after a reload and after a crash; with other windows and programs.

import assert from "node:assert/strict";
import { chmodSync, renameSync } from "node:fs";
import { join } from "node:path";
import test, { after, before } from "node:test";
import { Desk, until } from "./desk.mjs";

let desk, page;
const tram = "#/toy/quay-tram.yaml/dry-fit";
const size = (p, name) => p.locator("#size-" + name);
const wheel = () => size(page, "wheel");

before(async () => {
  desk = await Desk.with("quay-tram.yaml", "plain/ball-driver.yaml");
  page = await desk.window();
});
after(() => desk.end());

/** proved waits until a page has the whole proof of its text. */
const proved = (p) => p.locator('.findings[aria-busy="false"]').waitFor();
const summary = (p) => p.locator(".findings .sum").innerText();

async function set(p, name, value) {
  await size(p, name).fill(value);
  await size(p, name).press("Enter");
}

test("the shelf shows the toys and what the proof says of them", async () => {
  await page.getByRole("link", { name: "Open Quay tram" }).waitFor();
  await page.getByRole("link", { name: "Open Little driver" }).waitFor();
  await until("both verdicts", async () => (await page.locator(".card .badge").count()) === 2);
  await until("a picture", async () => (await page.locator(".card img").count()) === 2);
});

test("a toy is opened, a length changed; findings and picture follow", async () => {
  await page.getByRole("link", { name: "Open Quay tram" }).click();
  await proved(page);
  await page.locator(".scene canvas").waitFor();
  const before = await summary(page);
  const picture = await page.locator(".scene").screenshot();
  const was = await wheel().inputValue();
  await set(page, "wheel", "1/2"); // too small to reach the floor
  await until("the file", () => /wheel: 1\/2\n/.test(desk.read("quay-tram.yaml")));
  await until("other findings", async () => (await summary(page)) !== before && (await page.locator('.findings[aria-busy="false"]').count()) === 1);
  await until("another picture", async () => !(await page.locator(".scene").screenshot()).equals(picture));
  // By keys, from a place where no text is typed.
  await page.locator(".scene").focus();
  await page.keyboard.press("Control+z");
  await until("the undo", async () => (await wheel().inputValue()) === was);
  await page.getByText(/^undone: .*wheel/).waitFor();
  await until("the findings before", async () => (await summary(page)) === before);
  await page.keyboard.press("Control+y");
  await until("the redo", async () => (await wheel().inputValue()) === "1/2");
  await until("the file again", () => /wheel: 1\/2\n/.test(desk.read("quay-tram.yaml")));
});

test("a value that makes no sense is refused beside it, and nothing is written", async () => {
  await proved(page);
  const text = desk.read("quay-tram.yaml"), verdict = await page.locator(".bar .badge").innerText();
  for (const [value, says] of [["2 +", /.+/], ["wheel", /wheel/], ["", /.+/]]) {
    await set(page, "wheel", value);
    await until("what is wrong with " + value, async () => says.test(await page.locator("#size-wheel-wrong").innerText()));
    assert.equal(await wheel().inputValue(), value, "what was typed stays");
    assert.equal(await wheel().getAttribute("aria-invalid"), "true");
  }
  assert.equal(desk.read("quay-tram.yaml"), text);
  assert.equal(await page.locator(".bar .badge").innerText(), verdict);
  await wheel().press("Escape");
  assert.equal(await wheel().inputValue(), "1/2");
  assert.equal(await page.locator("#size-wheel-wrong").innerText(), "");
});

test("while the file cannot be read, no verdict is shown, and every page says so", async () => {
  const text = desk.read("quay-tram.yaml");
  desk.write("quay-tram.yaml", text.replace("wheel: 1/2\n", "wheel: x y\n"));
  await page.getByText("cannot be read as it is now").first().waitFor();
  assert.match(await page.locator(".bar .badge").innerText(), /cannot be read/);
  desk.write("quay-tram.yaml", text);
  await proved(page);
  await until("the verdict", async () => /holds|fails|mind/.test(await page.locator(".bar .badge").innerText()));
});

test("what others changed while one typed is not put over without a word", async () => {
  const text = desk.read("quay-tram.yaml");
  await wheel().fill("9/16");
  desk.write("quay-tram.yaml", text.replace("wheel: 1/2\n", "wheel: 5/8\n"));
  await until("the other's change", () => page.locator("#size-wheel-says").innerText().then((t) => /15.9/.test(t)));
  assert.equal(await wheel().inputValue(), "9/16");
  await wheel().press("Enter");
  await until("the question", async () => /5\/8 meanwhile/.test(await page.locator("#size-wheel-wrong").innerText()));
  assert.match(desk.read("quay-tram.yaml"), /wheel: 5\/8/);
  await wheel().press("Escape");
  assert.equal(await wheel().inputValue(), "5/8");
  desk.write("quay-tram.yaml", text);
  await until("as it was", async () => (await wheel().inputValue()) === "1/2");
});

test("a reload keeps the place", async () => {
  await page.reload();
  await until("the size", async () => (await wheel().count()) === 1 && (await wheel().inputValue()) === "1/2");
  assert.ok(page.url().endsWith(tram));
  assert.equal(await page.locator("nav [aria-current]").innerText(), "Dry fit");
});

test("what another editor changes appears", async () => {
  desk.write("quay-tram.yaml", desk.read("quay-tram.yaml").replace("wheel: 1/2\n", "wheel: 1 1/4\n"));
  await until("the other editor's change", async () => (await wheel().inputValue()) === "1 1/4");
  await page.getByRole("button", { name: "Undo", exact: true }).click();
  await until("the undo of it", async () => (await wheel().inputValue()) === "1/2");
});

test("two windows agree", async () => {
  const other = await desk.window(tram);
  await until("the other window", async () => (await size(other, "wheel").count()) === 1);
  await set(other, "wheel", "1 1/2");
  await until("the first window", async () => (await wheel().inputValue()) === "1 1/2");
  await set(page, "car", "5");
  await until("the second window", async () => (await size(other, "car").inputValue()) === "5");
  assert.ok(/wheel: 1 1\/2\n[^]*car: 5/.test(desk.read("quay-tram.yaml")), "the file has both");
  await other.context().close();
});

test("a file that may not be written is said; two versions wait for a choice, and none is lost", async () => {
  const at = join(desk.folder, "quay-tram.yaml"), was = desk.read("quay-tram.yaml");
  chmodSync(at, 0o444);
  await set(page, "wheel", "1 3/4");
  await page.getByText("could not be saved (the file may only be read)").waitFor();
  assert.ok(desk.read("quay-tram.yaml") === was, "the file is left alone");
  // Another program puts a file in its place, as editors do.
  desk.write("other", was.replace(/wheel: .*\n/, "wheel: 1 7/8\n"));
  chmodSync(join(desk.folder, "other"), 0o444);
  renameSync(join(desk.folder, "other"), at);
  const choice = page.getByRole("button", { name: "Take the other", exact: true });
  await choice.waitFor();
  assert.equal(await wheel().inputValue(), "1 3/4");
  chmodSync(at, 0o644);
  await choice.click();
  await until("the other version", async () => (await wheel().inputValue()) === "1 7/8");
  await page.getByRole("button", { name: "Undo", exact: true }).click();
  await until("mine in the file", () => /wheel: .?1 3\/4/.test(desk.read("quay-tram.yaml")));
  await until("mine in the field", async () => (await wheel().inputValue()) === "1 3/4");
});

test("after a crash of the program the work is there, and can be undone", async () => {
  await set(page, "wheel", "1 3/8");
  await until("the one change", () => /wheel: .?1 3\/8/.test(desk.read("quay-tram.yaml")));
  await set(page, "car", "4 1/2");
  await until("the other change", () => /car: 4 1\/2/.test(desk.read("quay-tram.yaml")));
  await desk.kill();
  await page.getByText("What you see is the last it said").waitFor();
  await desk.start();
  const again = await desk.window(tram);
  await until("the last size", async () => (await size(again, "car").count()) === 1 && (await size(again, "car").inputValue()) === "4 1/2");
  await again.locator(".scene").focus();
  for (const [name, value] of [["car", "5"], ["wheel", "1 3/4"]]) {
    await again.keyboard.press("Control+z");
    await until("the undo of " + name, async () => (await size(again, name).inputValue()) === value);
  }
  await again.context().close();
});

test("holes that go through are given a depth, and go through again", async () => {
  const desk = await Desk.with("quay-tram.yaml");
  try {
    const page = await desk.window("#/toy/quay-tram.yaml/draw");
    await page.locator(".work button.plain", { hasText: "right through" }).first().click({ timeout: 30_000 });
    const deep = page.getByLabel("depth", { exact: false }).first();
    assert.equal(await deep.inputValue(), "through");
    await deep.fill("1/2");
    await deep.press("Enter");
    await until("a depth", () => /depth: 1\/2/.test(desk.read("quay-tram.yaml")));
    await page.waitForFunction(() => [...document.querySelectorAll(".values input")].some((i) => i.value === "1/2"));
    const now = page.getByLabel("depth", { exact: false }).first();
    await now.fill("through");
    await now.press("Enter");
    await until("right through", () => !/depth: 1\/2/.test(desk.read("quay-tram.yaml")));
  } finally {
    await desk.end();
  }
});
