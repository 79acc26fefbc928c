// Names, order, and which piece is the first: changed on Draw by keys, in all of the file.

import assert from "node:assert/strict";
import test, { after, before } from "node:test";
import { Desk, until } from "./desk.mjs";

let desk, page;
const file = "hitch.yaml";

before(async () => {
  desk = await Desk.with("plain/hitch.yaml");
  page = await desk.window("#/toy/hitch.yaml/draw");
  await page.getByRole("navigation", { name: "Parts of the toy" }).waitFor();
});
after(() => desk.end());

const part = (name) => page.getByRole("navigation", { name: "Parts of the toy" }).getByRole("button", { name: new RegExp("^" + name) });
const holds = () => until("the whole proof", async () => /holds|mind/.test(await page.locator(".bar .badge").innerText()) && (await page.locator('.findings[aria-busy="false"]').count()) === 1);

test("a part is called something else, wherever the file speaks of it, and one undo takes it back", async () => {
  const text = desk.read(file);
  await part("hood").press("Enter");
  const called = page.locator(".side .field").getByLabel("called").first();
  await called.fill("bonnet");
  await called.press("Enter");
  await until("the new name", () => desk.read(file).includes("  bonnet: {from: beech") && /put: bonnet/.test(desk.read(file)));
  assert.ok(!/hood/.test(desk.read(file).replace(/#.*/g, "")), desk.read(file));
  await part("bonnet").waitFor();
  assert.equal(await page.locator("#blank-head").innerText(), "bonnet", "it stays open");
  await called.fill("cart");
  await called.press("Enter");
  await until("why not", async () => /cart/.test(await page.locator(".side .wrong").first().innerText()));
  await called.press("Escape");
  await page.getByRole("button", { name: "Undo", exact: true }).click();
  await until("the old name", () => desk.read(file) === text);
});

test("a size is named and called something else", async () => {
  const text = desk.read(file);
  await page.getByText("Name a size").press("Enter");
  const form = page.locator(".sizes form");
  await form.getByLabel("called").fill("overhang");
  await form.getByLabel("is", { exact: true }).fill("1/8");
  await form.getByLabel("is", { exact: true }).press("Enter");
  await until("the new size", () => /overhang: 1\/8/.test(desk.read(file)));
  await form.getByLabel("which").selectOption("dowel");
  await form.getByLabel("called").fill("stick");
  await form.getByLabel("called").press("Enter");
  await until("the new name", () => /stick: 1\/4/.test(desk.read(file)) && /dia: stick \+ running/.test(desk.read(file)));
  for (const _ of [1, 2]) await page.getByRole("button", { name: "Undo", exact: true }).click();
  await until("the text as it was", () => desk.read(file) === text);
});

test("what is moved in the order keeps the focus, so that it can be moved on", async () => {
  const text = desk.read(file);
  await part("tractor").press("Enter");
  const rows = page.locator(".work").first().locator("> li");
  await rows.nth(3).getByRole("button", { name: / earlier$/ }).press("Enter");
  await until("one up", () => desk.read(file) !== text);
  const once = desk.read(file);
  await until("the focus", () => page.evaluate(() => document.activeElement.id.endsWith("work[2]-up") || document.activeElement.id.endsWith("-2-up")));
  await page.keyboard.press("Enter");
  await until("one further up", () => ![text, once].includes(desk.read(file)));
  const work = desk.read(file).split("parts:")[1].split("hood:")[0].match(/- (\w[\w-]*):/g);
  assert.deepEqual(work, ["- drill:", "- saw:", "- drill:", "- notch:"]);
  for (const _ of [1, 2]) await page.getByRole("button", { name: "Undo", exact: true }).click();
  await until("the text as it was", () => desk.read(file) === text);
});

test("another piece is made the first, and the toy holds as before", async () => {
  await holds();
  await part("hood").press("Enter");
  await page.getByRole("button", { name: "Let this be the first piece" }).press("Enter");
  await until("the other order", () => /build:\s+- \{put: hood[^}]*\}\s+- \{?put: tractor|build:\s+- \{put: hood\}/.test(desk.read(file)));
  await holds();
  assert.match(desk.read(file), /front: hood\.front \+ 1\/8/);
  await page.getByRole("button", { name: "Undo", exact: true }).click();
  await holds();
});
