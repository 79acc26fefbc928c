import assert from "node:assert/strict";
import test from "node:test";
import { between, fileOf, meet, moved, paneOf } from "../../src/file/text.ts";
import { places } from "../../src/file/find.tsx";

const apply = (text, s) => (s ? text.slice(0, s.from) + s.insert + text.slice(s.to) : text);

// A small generator of its own, so that a failure can be seen again.
function chance(seed) {
  let x = seed;
  return (n) => (x = (x * 48271) % 2147483647) % n;
}

test("a splice makes one text of another", () => {
  for (const a of ["", "a", "aa", "ab\ncd\n", "😀", "é"])
    for (const b of ["", "a", "aaa", "ab\nxd\n", "😁", "e"]) assert.equal(apply(a, between(a, b)), b, `${a} to ${b}`);
});

test("a file keeps the ends of its lines and its mark wherever nothing is typed", () => {
  const pieces = ["a", "\n", "\r\n", "\r", "long", " ", "é", "😀"];
  for (let seed = 1; seed <= 400; seed++) {
    const pick = chance(seed);
    const file = (pick(2) ? "\ufeff" : "") + Array.from({ length: pick(12) }, () => pieces[pick(pieces.length)]).join("");
    const pane = paneOf(file);
    assert.equal(fileOf(file, pane), file, "nothing typed");
    const from = pick(pane.length + 1), to = Math.min(pane.length, from + pick(3));
    const typed = pane.slice(0, from) + ["", "x", "y\nz", "\n"][pick(4)] + pane.slice(to);
    const out = fileOf(file, typed);
    assert.equal(paneOf(out), typed, JSON.stringify([file, typed, out]));
    assert.equal(out.startsWith("\ufeff"), file.startsWith("\ufeff"));
  }
  assert.equal(fileOf("\ufeffa\r\nb\r\nc\n", "a\nb\nx\nc\n"), "\ufeffa\r\nb\r\nx\r\nc\n");
});

test("two changes of other lines can both be made, in either order", () => {
  const text = "one\ntwo\nthree\nfour\n";
  const a = between(text, "one\ntwo 2\nthree\nfour\n"), b = between(text, "one\ntwo\nthree\nfour 4\n");
  assert.ok(!meet(text, a, b));
  assert.equal(apply(apply(text, a), moved(b, a)), "one\ntwo 2\nthree\nfour 4\n");
  assert.equal(apply(apply(text, b), moved(a, b)), "one\ntwo 2\nthree\nfour 4\n");
  assert.ok(meet(text, a, between(text, "one\n2 two\nthree\nfour\n")), "one line");
  assert.ok(meet(text, a, between(text, "one\nfour\n")), "lines taken away");
});

test("words are found whatever their case", () => {
  assert.deepEqual(places("Wheel wheel\nWHEEL", "wheel"), [0, 6, 12]);
  assert.deepEqual(places("aaa", "aa"), [0]);
  assert.deepEqual(places("İwheel", "wheel"), [1]); // its small letter is longer
});
