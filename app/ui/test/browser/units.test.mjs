// Inches or millimetres, as the user likes: all that is shown and typed, while the file stays in its
// own units.

import assert from "node:assert/strict";
import test, { after, before } from "node:test";
import { Desk, until } from "./desk.mjs";

const file = "quay-tram.yaml"; // in inches
const toy = (page) => `#/toy/${file}/${page}`;
let desk, page;

before(async () => {
  desk = await Desk.with(file, "shop");
  page = await desk.window(toy("dry-fit"));
});
after(() => desk.end());

const measureIn = (p, units) => p.getByLabel("Lengths in").selectOption(units);
const atRest = (p) => until("the page to be at rest", async () => (await p.locator('main [aria-busy="true"]').count()) === 0 && (await p.locator("main .wait").count()) === 0);
const findings = async (p) => {
  await p.locator('.findings[aria-busy="false"]').waitFor();
  return p.locator(".findings .list").allInnerTexts().then((t) => t.join("\n"));
};

test("findings are said in the user's units, and come back to the toy's", async () => {
  const text = desk.read(file);
  await page.getByRole("button", { name: /Show what holds/ }).click();
  const own = await findings(page);
  assert.match(own, /\d in\b/);
  await measureIn(page, "mm");
  await until("millimetres", async () => !/\d in\b/.test(await findings(page)) && /\d mm/.test(await findings(page)));
  assert.ok(page.url().endsWith(toy("dry-fit")));
  assert.equal(desk.read(file), text, "the file is not converted");
  await measureIn(page, "");
  await until("as before", async () => (await findings(page)) === own);
  await measureIn(page, "mm");
});

test("sizes: the file's text with its unit, what it comes to, and what is typed", async () => {
  const wheel = page.locator("#size-wheel"), says = page.locator("#size-wheel-says");
  await until("the unit", async () => / in$/.test(await wheel.inputValue()));
  assert.match(await says.innerText(), /^= [\d.]+ mm/);
  await wheel.fill("32");
  await wheel.press("Enter");
  await until("the file", () => /wheel: 32 mm\b/.test(desk.read(file)));
  await until("the read-out", async () => /^= 32 mm/.test(await says.innerText()));
  await page.getByRole("button", { name: "Undo", exact: true }).click();
  await until("the undo", () => !/wheel: 32 mm\b/.test(desk.read(file)));
});

test("Draw: the rule, the read-outs and what is drawn", async () => {
  await desk.go(page, toy("draw"));
  await page.locator("svg.sheet").first().waitFor();
  assert.deepEqual(await page.getByLabel("To the nearest").locator("option").allInnerTexts(), ["5 mm", "1 mm", "0.5 mm"]);
  await page.getByRole("button", { name: "Drill", exact: true }).click();
  await page.locator("svg.sheet").focus();
  for (const key of ["ArrowRight", "ArrowUp"]) await page.keyboard.press(key);
  await until("the mark", async () => /from left/.test(await page.locator(".paper p.unseen").innerText()));
  const [, x, y] = /: (\d+) from left, (\d+) from bottom/.exec(await page.locator(".paper p.unseen").innerText());
  await page.keyboard.press("Enter");
  await until("the hole", () => desk.read(file).includes(`[${x} mm, ${y} mm]`));
  await page.getByRole("button", { name: "Undo", exact: true }).click();
  await until("the undo", () => !desk.read(file).includes(`[${x} mm, ${y} mm]`));
  const handles = await page.locator("svg.sheet .handle").evaluateAll((all) => all.map((h) => h.getAttribute("aria-label")));
  assert.ok(handles.length > 0 && handles.every((h) => /[\d.]+ from left, [\d.]+ from bottom$/.test(h)), handles.join("\n"));
});

test("Stock, Steps and Patterns follow, and downloads with them", async () => {
  await desk.go(page, toy("stock"));
  await page.locator(".lists table").first().waitFor();
  await atRest(page);
  const lists = await page.locator(".lists").innerText();
  assert.match(lists, /Lengths are in millimetres/);
  assert.match(lists, /133\.35 × 31\.75 × 19\.05/); // 5 1/4 × 1 1/4 × 3/4 in
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: /CSV/ }).click();
  const csv = await (await (await download).createReadStream()).reduce((s, b) => s + b, "");
  assert.match(csv, /19\.05/); // the board of 3/4 in
  await desk.go(page, toy("patterns"));
  await page.locator(".desk img").waitFor();
  await atRest(page);
  assert.equal(await page.getByLabel("Paper").inputValue(), "a4");
  await measureIn(page, "inch");
  await until("inches' paper", async () => (await page.getByLabel("Paper").inputValue()) === "letter");
});

test("the choice is kept in this browser", async () => {
  await page.reload();
  await page.locator(".desk img").waitFor();
  assert.equal(await page.getByLabel("Lengths in").inputValue(), "inch");
  const other = await desk.window(toy("dry-fit"));
  assert.equal(await other.getByLabel("Lengths in").inputValue(), "", "another browser has its own");
});
