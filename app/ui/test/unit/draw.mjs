import assert from "node:assert/strict";
import test from "node:test";
import { faceOf } from "../../src/draw/lines.ts";
import { squareOf, squareSays } from "../../src/draw/squares.tsx";

test("squares are the finest that can be counted across the paper", () => {
  assert.deepEqual(squareOf("mm", 50), [1, 10]);
  assert.deepEqual(squareOf("mm", 61), [5, 10]);
  assert.deepEqual(squareOf("mm", 100_000), [100, 10], "however wide");
  assert.equal(squareSays("inch", 150), "squares of 1/8 in");
  assert.equal(squareSays("inch", 300), "squares of 1/4 in");
  assert.equal(squareSays("inch", 1000), "squares of 1 in");
});

test("of a piece, what faces the right side of the toy is filled", () => {
  const base64 = (a) => Buffer.from(a.buffer).toString("base64");
  // A prism of three corners that lies along y: one end faces right (-y), the other left.
  const mesh = { key: "k", size: [3, 5, 4], corners: base64(new Float32Array([0, 0, 0, 3, 0, 0, 0, 0, 4, 0, 5, 0, 3, 5, 0, 0, 5, 4])), triangles: base64(new Uint32Array([0, 1, 2, 3, 5, 4])), faces: "", edges: "" };
  const piece = { id: "p", part: "p", shape: "k", pose: [1, 0, 0, 0, 1, 0, 0, 0, 1, 10, 0, 2] };
  assert.equal(faceOf(piece, { meshes: [mesh] }), "M10.00 -2.00L13.00 -2.00L10.00 -6.00z");
  const turned = { ...piece, pose: [-1, 0, 0, 0, -1, 0, 0, 0, 1, 10, 0, 2] };
  assert.equal(faceOf(turned, { meshes: [mesh] }), "M10.00 -2.00L10.00 -6.00L7.00 -2.00z", "turned round, the other end");
});
