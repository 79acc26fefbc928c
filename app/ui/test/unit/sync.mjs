import assert from "node:assert/strict";
import test, { mock } from "node:test";
import { pause, spell, Sync } from "../../src/file/sync.ts";

const apply = (text, s) => text.slice(0, s.from) + s.insert + text.slice(s.to);

// A program with a text, and a pane on it. Whether the stream or the answer is first, and whether
// there is an answer at all, is for each test to say.
function desk(text) {
  const d = { n: 1, text, changes: [], away: false, hold: null, pane: "" };
  const state = () => ({ file: "toy.yaml", n: d.n, hash: "h" + d.text, text: d.text });
  const change = (t) => { d.text = t; d.n++; };
  d.sync = new Sync(
    { text: () => d.pane, apply: (s) => (d.pane = apply(d.pane, s)) },
    async (base, t, group) => {
      if (d.hold) await d.hold;
      if (d.away) return { later: true };
      if (base.hash !== "h" + d.text) return { now: state() };
      change(t);
      d.changes.push(group);
      if (d.stream) d.sync.came(state());
      return { now: state() };
    },
    () => {}, "g",
  );
  d.state = state;
  d.elsewhere = (t) => { change(t); d.sync.came(state()); };
  d.type = (from, to) => { d.pane = d.pane.replace(from, to); d.sync.typed(); };
  d.sync.came(state());
  return d;
}

async function wait(ms) {
  mock.timers.tick(ms);
  for (let i = 0; i < 20; i++) await Promise.resolve();
}

test.beforeEach(() => mock.timers.enable({ apis: ["setTimeout", "Date"], now: 1e12 }));
test.afterEach(() => mock.timers.reset());

for (const stream of [false, true]) {
  test("what is typed is sent after a pause, a spell of it as one" + (stream ? ", the stream first" : ""), async () => {
    const d = desk("a: 1\nb: 2\n");
    d.stream = stream;
    assert.equal(d.pane, "a: 1\nb: 2\n");
    d.type("1", "11");
    await wait(pause - 1);
    assert.equal(d.changes.length, 0);
    await wait(1);
    assert.equal(d.text, "a: 11\nb: 2\n");
    await wait(pause);
    d.type("11", "111");
    await wait(pause);
    await wait(spell);
    d.type("2", "22");
    await wait(pause);
    assert.deepEqual(d.changes, ["g1", "g1", "g2"]);
    assert.equal(d.text, "a: 111\nb: 22\n");
    assert.ok(!d.sync.unsent);
  });
}

test("a change elsewhere comes in, also while something is typed about other lines", async () => {
  const d = desk("a: 1\nb: 2\n");
  d.elsewhere("a: 1\nb: 3\n");
  assert.equal(d.pane, "a: 1\nb: 3\n");
  d.type("a: 1", "a: 10");
  d.elsewhere("a: 1\nb: 4\n");
  assert.equal(d.pane, "a: 10\nb: 4\n");
  await wait(pause);
  assert.equal(d.text, "a: 10\nb: 4\n");
});

test("a change elsewhere that the stream has not told yet", async () => {
  const d = desk("a: 1\nb: 2\n");
  d.type("a: 1", "a: 10");
  d.text = "a: 1\nb: 5\n";
  d.n++;
  await wait(pause);
  assert.equal(d.pane, "a: 10\nb: 5\n");
  await wait(pause);
  assert.equal(d.text, "a: 10\nb: 5\n");
});

for (const mine of [true, false]) {
  test("the same line: nothing is sent before the choice, and both are in the history: " + (mine ? "mine" : "theirs"), async () => {
    const d = desk("a: 1\nb: 2\n");
    d.type("a: 1", "a: 10");
    d.elsewhere("a: 7\nb: 2\n");
    assert.equal(d.pane, "a: 10\nb: 2\n");
    assert.ok(d.sync.conflict);
    await wait(10 * pause);
    assert.equal(d.text, "a: 7\nb: 2\n");
    d.type("b: 2", "b: 20"); // typing goes on
    const texts = [];
    const choosing = d.sync.choose(mine);
    await wait(pause);
    texts.push(d.text);
    await choosing;
    await wait(pause);
    assert.equal(d.text, mine ? "a: 10\nb: 20\n" : "a: 7\nb: 2\n");
    assert.equal(d.pane, d.text);
    assert.equal(d.changes.length, mine ? 1 : 2, "what was typed is a change of its own");
    assert.equal(d.sync.conflict, null);
  });
}

test("typing while it is being sent, and no answer for a while", async () => {
  const d = desk("a: 1\n");
  let go;
  d.hold = new Promise((r) => (go = r));
  d.type("1", "2");
  await wait(pause);
  d.type("2", "3");
  d.hold = null;
  go();
  await wait(0);
  assert.equal(d.pane, "a: 3\n");
  await wait(pause);
  assert.equal(d.text, "a: 3\n");
  d.away = true;
  d.type("3", "4");
  await wait(pause);
  await wait(pause);
  assert.equal(d.pane, "a: 4\n");
  d.away = false;
  await wait(2000);
  assert.equal(d.text, "a: 4\n");
});

test("an answer that comes after what came after it changes nothing", () => {
  const d = desk("a: 1\n");
  const old = d.state();
  d.elsewhere("a: 2\n");
  d.elsewhere("a: 3\n");
  d.sync.came({ ...old, text: "a: 2\n", hash: "x", n: 2 });
  assert.equal(d.pane, "a: 3\n");
});

test("a file that gets another name is gone on with", async () => {
  const d = desk("a: 1\n");
  d.type("1", "2");
  d.sync.came({ ...d.state(), file: "other.yaml", n: 0 });
  await wait(pause);
  assert.equal(d.text, "a: 2\n");
  d.sync.came({ file: "other.yaml", n: 9, hash: "h", text: "a: 3\n" });
  assert.equal(d.pane, "a: 3\n");
});

test("a page that is left sends the rest", async () => {
  const d = desk("a: 1\n");
  d.type("1", "2");
  d.sync.end();
  await wait(0);
  assert.equal(d.text, "a: 2\n");
});

// A page is left with something typed; meanwhile or before, something else happens.
for (const [what, far, pane, all] of [
  ["another line was changed", (d) => (d.text = "a: 1\nb: 9\n", d.n++), "a: 2\nb: 9\n", false],
  ["the same line was changed", (d) => (d.text = "a: 7\nb: 1\n", d.n++), "a: 2\nb: 1\n", false],
  ["the program is away", (d) => (d.away = true), "a: 2\nb: 1\n", false],
  ["nothing", () => {}, "a: 2\nb: 1\n", true],
]) {
  test("a page that is left loses nothing: " + what, async () => {
    const d = desk("a: 1\nb: 1\n");
    d.type("a: 1", "a: 2");
    far(d);
    const left = d.sync.left;
    assert.deepEqual(left, { base: "a: 1\nb: 1\n", text: "a: 2\nb: 1\n" });
    assert.equal(await d.sync.end(), all, "whether it has reached the program");
    const back = desk(d.text);
    back.sync.restore(left);
    assert.equal(back.pane, pane);
    assert.equal(back.sync.conflict !== null, what === "the same line was changed");
    await wait(pause);
    assert.equal(back.text, what === "the same line was changed" ? "a: 7\nb: 1\n" : pane);
  });
}

test("a page that is left while something is on its way sends the rest after it", async () => {
  const d = desk("a: 1\n");
  let go;
  d.hold = new Promise((r) => (go = r));
  d.type("1", "2");
  await wait(pause);
  d.type("2", "3");
  d.hold = null;
  const end = d.sync.end();
  go();
  assert.equal(await end, true);
  assert.equal(d.text, "a: 3\n");
});

test("what was typed in a conflict is there again", async () => {
  const d = desk("a: 2\n");
  d.sync.restore({ base: "a: 1\n", text: "a: typed\n" });
  assert.equal(d.pane, "a: typed\n");
  assert.ok(d.sync.conflict);
  await wait(pause);
  assert.equal(d.text, "a: 2\n");
  const choosing = d.sync.choose(true);
  await wait(pause);
  await choosing;
  assert.equal(d.text, "a: typed\n");
});
