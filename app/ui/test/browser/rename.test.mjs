// Names of pieces, stock, sizes and hinges changed in the app by keys, names that cannot be, and parts that go.

import assert from "node:assert/strict";
import test, { after, before } from "node:test";
import { Desk, until } from "./desk.mjs";

let desk, page;
const file = "joinery.yaml";

before(async () => {
  desk = await Desk.with("plain/joinery.yaml", "plain/hitch.yaml");
  page = await desk.window("#/toy/joinery.yaml/draw");
  await parts().waitFor();
});
after(() => desk.end());

const parts = () => page.getByRole("navigation", { name: "Parts of the toy" });
const part = (name) => parts().getByRole("button", { name: new RegExp("^" + name + "( |$)") });
const undo = async () => {
  const button = page.getByRole("button", { name: "Undo", exact: true });
  await until("something to undo", () => button.isEnabled()); // the page may hear of a change later than the file
  await button.press("Enter");
};
const remove = (what) => page.getByRole("button", { name: "Remove this " + what });
const step = (says) => page.locator(".build").getByRole("button", { name: says });
const wrong = () => page.locator(".side .wrong:not(:empty)");

async function typed(field, text) {
  await field.fill(text);
  await field.press("Enter");
}

async function back(text, times = 1) {
  for (let i = 0; i < times; i++) await undo();
  await until("the text as it was", () => desk.read(file) === text);
}

test("a piece of a glue-up is called something else, and one undo takes it back", async () => {
  const text = desk.read(file);
  await part("right").press("Enter");
  const called = page.locator(".values").getByLabel("called");
  await typed(called, "shell");
  await until("the new name", () => desk.read(file).includes("right: shell.left - 6, bottom: shell.bottom + 17, middle: shell.middle"));
  const now = desk.read(file);
  assert.match(now, /put: right\n +as: shell\n/);
  assert.match(now, /sand-flush: \{side: front, with: shell\}/);
  assert.match(now, /glue-to: \[shell, left, floor\]/);
  await step(/shell comes first/).waitFor(); // the page has it too
  await typed(called, "left");
  await until("why not", async () => /already a piece left/.test(await wrong().innerText()));
  assert.equal(desk.read(file), now);
  await called.press("Escape");
  await back(text);
});

test("stock is called something else", async () => {
  const text = desk.read(file);
  await part("right").press("Enter");
  await page.getByText("Call this stock something else").press("Enter");
  await typed(page.getByLabel("stock called"), "plank");
  await until("the new name", () => desk.read(file) === text.replace("  beech: {", "  plank: {").replaceAll("from: beech\n", "from: plank\n"));
  await back(text);
});

test("a double click on a size, or its choice in the list, gives it another name", async () => {
  const text = desk.read(file);
  await page.locator(".sizes th label", { hasText: "ply" }).dblclick();
  const called = page.locator(".sizes form").getByLabel("called");
  await until("the name in the field", async () => (await called.inputValue()) === "ply" && (await called.evaluate((e) => e === document.activeElement)));
  await typed(called, "Stärke");
  await until("why not", async () => /Stärke is not a name; expected letters a to z/.test(await wrong().innerText()));
  await typed(called, "dowel");
  await until("why not", async () => /already a size dowel/.test(await wrong().innerText()));
  assert.equal(desk.read(file), text);
  await typed(called, "panel");
  await until("the new name", () => desk.read(file) === text.replace("ply: 6", "panel: 6").replaceAll("thick: ply}", "thick: panel}").replaceAll("wide: ply,", "wide: panel,"));
  await back(text);
});

test("a new part keeps its name as it is typed, or says what is expected; unused it can be removed", async () => {
  const text = desk.read(file);
  await part("New part").press("Enter");
  const name = parts().getByLabel("Name");
  for (const [bad, says] of [["Flügel", /Flügel is not a name; expected letters a to z, digits and hyphens/], ["車", /車 is not a name/], ["wheel", /wheel/], ["true", /true/]]) {
    await typed(name, bad);
    await until("why not " + bad, async () => says.test(await parts().locator(".wrong").innerText()));
    assert.equal(await name.inputValue(), bad, "what was typed stays");
    assert.equal(await name.getAttribute("aria-invalid"), "true");
    assert.equal(desk.read(file), text);
  }
  await typed(name, "Left wing");
  await until("the part", () => /\n {2}Left-wing: \{from: beech/.test(desk.read(file)));
  await page.getByText("It is used by line 4 of the build.").waitFor();
  assert.ok(await remove("part").isDisabled());
  await page.getByRole("button", { name: "Take this out of the build" }).press("Enter");
  await until("it is in no build", () => !/put: Left-wing/.test(desk.read(file)));
  await until("it can go", async () => !(await remove("part").isDisabled()));
  await remove("part").press("Enter");
  await until("it is gone", () => desk.read(file) === text);
  await until("the whole toy", async () => /the whole toy/.test(await page.locator("#draw-head").innerText()));
  assert.equal(await part("Left-wing").count(), 0);
});

test("what is in use says by whom", async () => {
  await part("floor").press("Enter");
  await page.getByText("It is used by the glue-up box.").waitFor();
  assert.ok(await remove("part").isDisabled());
  await part("box").press("Enter");
  await page.getByText("It is used by line 1 of the build.").waitFor();
  assert.ok(await remove("glue-up").isDisabled());
});

test("a hinge and its pin are called something else", async () => {
  await desk.go(page, "#/toy/hitch.yaml/draw");
  await part("pin").press("Enter");
  const text = desk.read("hitch.yaml");
  await typed(page.locator(".values").getByLabel("name", { exact: true }), "coupling");
  await until("the new name", () => /hinge: \{name: coupling, pin: pin/.test(desk.read("hitch.yaml")));
  assert.ok(!/swings: hitch/.test(desk.read("hitch.yaml")));
  await step(/hinge coupling/).waitFor();
  await typed(page.locator(".values").getByLabel("pin called"), "peg-1");
  await until("the pin's name", () => /as: peg-1/.test(desk.read("hitch.yaml")));
  for (const _ of [1, 2]) await undo();
  await until("the text as it was", () => desk.read("hitch.yaml") === text);
});
