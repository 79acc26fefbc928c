// The page of the file: typing, problems, help, changes from elsewhere, two texts of one line.

import assert from "node:assert/strict";
import test, { after, before } from "node:test";
import { Desk, until } from "./desk.mjs";

const file = "ball-driver.yaml";
let desk, page;

before(async () => {
  desk = await Desk.with("plain/" + file);
  page = await desk.window(`#/toy/${file}/file`);
  await page.locator(".cm-line").first().waitFor();
});
after(() => desk.end());

const text = () => desk.read(file);
const help = () => page.locator("section[aria-labelledby=file-help]").innerText();

/** at puts the cursor behind a line that begins so. */
async function at(line) {
  await page.locator(".cm-line", { hasText: line }).first().click();
  await page.keyboard.press("End");
}

test("what is typed is saved, a spell of it is one undo, and it can be done again", async () => {
  const was = text();
  await at("toy: Little driver");
  await page.keyboard.type(" of the", { delay: 60 });
  await page.keyboard.type(" quay", { delay: 60 });
  await until("the file", () => text() === was.replace("Little driver", "Little driver of the quay"));
  await page.keyboard.press("Control+z");
  await until("the undo", () => text() === was);
  await page.keyboard.press("Control+y");
  await until("the redo", () => text() !== was);
  await page.keyboard.press("Control+z");
  await until("the undo", () => text() === was);
});

test("a key is explained, keys and values are offered", async () => {
  await at("  rod: {wood");
  await page.keyboard.press("Home");
  await at("units: mm");
  await until("the help", async () => /units: .*inch/.test(await help()));
  await at("must:");
  await page.keyboard.press("Control+End");
  await page.keyboard.type("\nwai");
  await page.keyboard.press("Control+Space");
  const offer = page.locator(".cm-tooltip-autocomplete li").first();
  await offer.waitFor();
  assert.match(await offer.innerText(), /^waive/);
  await page.keyboard.press("Escape");
});

test("a problem is shown at its line, and leads there", async () => {
  const found = page.locator(".file-problems button").first();
  await found.waitFor();
  const line = +/line (\d+)/.exec(await found.innerText())[1];
  await page.locator(".cm-lint-marker-error").waitFor();
  await page.keyboard.press("Control+Home");
  await found.click();
  await until("the line", async () => (await page.locator(".cm-activeLineGutter").allInnerTexts()).includes(String(line)));
  await page.keyboard.press("Control+z");
  await until("no problem", async () => (await found.count()) === 0);
});

test("a change from elsewhere comes in and the cursor stays in its place", async () => {
  await at("toy: Little driver");
  desk.write(file, "# one line more\n" + text());
  await page.locator(".cm-line", { hasText: "# one line more" }).waitFor();
  await page.keyboard.type("!");
  await until("the sign", () => /toy: Little driver!\n/.test(text()), async () => text() + (await page.locator("body").innerText()));
});

test("the same line changed elsewhere while typing: both are kept, and one is chosen", async () => {
  for (const mine of [true, false]) {
    let go;
    const held = new Promise((r) => (go = r));
    await page.route("**/call/change", async (route) => { // what is typed is on its way for a while
      await held;
      await route.continue();
    });
    await at("units: mm");
    await page.keyboard.type(" # typed");
    desk.write(file, text().replace(/units: mm.*\n/, "units: mm # elsewhere\n"));
    const choice = page.getByRole("button", { name: mine ? "Keep what I typed" : "Take the other text" });
    await choice.waitFor();
    go();
    await page.unroute("**/call/change");
    assert.match(text(), /# elsewhere/);
    await choice.click();
    await until("the end of it", async () => (await choice.count()) === 0);
    await until("the choice", () => text().includes(mine ? "# typed" : "# elsewhere"));
    await page.getByRole("button", { name: "Undo", exact: true }).click();
    await until("the other", () => text().includes(mine ? "# elsewhere" : "# typed"));
    desk.write(file, text().replace(/units: mm.*\n/, "units: mm\n"));
    await until("as before", async () => (await page.locator(".cm-line", { hasText: /^units: mm$/ }).count()) === 1);
  }
});

test("words are found", async () => {
  await page.locator(".cm-content").click();
  await page.keyboard.press("Control+f");
  await page.keyboard.type("AXLE");
  await page.keyboard.press("Enter");
  await page.getByText(/^\d+ of \d+$/).waitFor();
});

test("Tab moves lines in; after Escape it leaves the text", async () => {
  await at("toy: Little");
  const inside = () => page.evaluate(() => !!document.activeElement?.closest(".cm-content"));
  await page.keyboard.press("Escape");
  await page.keyboard.press("Tab");
  assert.equal(await inside(), false);
});

test("other ends of lines stay", async () => {
  desk.write(file, "\ufeff" + text().replace(/\n/g, "\r\n"));
  const was = text();
  await page.waitForTimeout(1000);
  await at("toy: Little");
  await page.keyboard.type("?");
  await until("the sign", () => text() !== was);
  assert.equal(text(), was.replace("driver!", "driver!?"));
});
