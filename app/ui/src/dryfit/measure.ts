// Distances between faces. A face is the triangles of a shape that one cut, one side of the blank
// or one hole has made: flat ones in one plane, round ones all round.

import { cross, dot, length, minus, moved, plus, times, turned, unit, type Pose, type Vec } from "./space";

/** Shape is a mesh with its numbers unpacked. */
export interface Shape {
  corners: Float32Array;
  triangles: Uint32Array;
  faces: Uint32Array;
}

export type Triangle = [Vec, Vec, Vec];

export interface Face {
  triangles: Triangle[];
  normal: Vec | null; // null: it is round
  axis: { at: Vec; dir: Vec; radius: number } | null; // of a round one
}

/** flat is how much, as the cosine, the normals of one plane differ in single precision. */
const flat = 1 - 1e-5;

/** inPlane is how far, in mm, corners of one plane are off it in single precision. */
const inPlane = 1e-3;

/** faceAt is the face of a shape that a triangle is part of. */
export function faceAt(s: Shape, triangle: number): Face {
  const all: Triangle[] = [];
  for (let i = 0; i < s.faces.length; i++) if (s.faces[i] === s.faces[triangle]) all.push(triangleOf(s, i));
  const mine = triangleOf(s, triangle);
  const n = normalOf(mine);
  const plane = all.filter((t) => dot(normalOf(t), n) > flat && Math.abs(dot(minus(t[0], mine[0]), n)) < inPlane);
  const axis = axisOf(all);
  return axis && plane.length < all.length ? { triangles: all, normal: null, axis } : { triangles: plane, normal: n, axis: null };
}

export function triangleOf(s: Shape, i: number): Triangle {
  const at = (k: number): Vec => {
    const c = 3 * s.triangles[3 * i + k];
    return [s.corners[c], s.corners[c + 1], s.corners[c + 2]];
  };
  return [at(0), at(1), at(2)];
}

export function normalOf(t: Triangle): Vec {
  return unit(cross(minus(t[1], t[0]), minus(t[2], t[0])));
}

/** axisOf is what facets go round: the direction that is square to all of them, and the middle of
 * the circle that their corners are on. */
function axisOf(ts: Triangle[]): Face["axis"] {
  const n = ts.map(normalOf);
  let dir: Vec = [0, 0, 0];
  for (let i = 1; i < n.length && length(dir) < 0.3; i++) dir = cross(n[0], n[i]);
  if (length(dir) < 1e-3) return null;
  dir = unit(dir);
  if (n.some((m) => Math.abs(dot(m, dir)) > 1e-3)) return null;
  const corners = ts.flat();
  const side = unit(minus(n[0], times(dir, dot(n[0], dir))));
  const up = cross(dir, side);
  const uv = corners.map((c) => [dot(c, side), dot(c, up)]);
  const far = uv.reduce((a, p) => (Math.hypot(p[0] - uv[0][0], p[1] - uv[0][1]) > Math.hypot(a[0] - uv[0][0], a[1] - uv[0][1]) ? p : a), uv[0]);
  const area = (p: number[]): number => (far[0] - uv[0][0]) * (p[1] - uv[0][1]) - (far[1] - uv[0][1]) * (p[0] - uv[0][0]);
  const third = uv.reduce((a, p) => (Math.abs(area(p)) > Math.abs(area(a)) ? p : a), uv[0]);
  if (Math.abs(area(third)) < 1e-6) return null;
  const [bx, by, cx, cy] = [far[0] - uv[0][0], far[1] - uv[0][1], third[0] - uv[0][0], third[1] - uv[0][1]];
  const d = 2 * (bx * cy - by * cx);
  const x = uv[0][0] + (cy * (bx * bx + by * by) - by * (cx * cx + cy * cy)) / d;
  const y = uv[0][1] + (bx * (cx * cx + cy * cy) - cx * (bx * bx + by * by)) / d;
  const radius = Math.hypot(uv[0][0] - x, uv[0][1] - y);
  const round = 0.02; // of the radius, by which corners of a rounded outline may be off
  if (uv.some((p) => Math.abs(Math.hypot(p[0] - x, p[1] - y) - radius) > round * radius)) return null;
  return { at: plus(times(side, x), up, y), dir, radius };
}

/** placed is a face where its piece is. */
export function placed(f: Face, pose: Pose): Face {
  return {
    triangles: f.triangles.map((t) => t.map((v) => moved(pose, v)) as Triangle),
    normal: f.normal && turned(pose, f.normal),
    axis: f.axis && { at: moved(pose, f.axis.at), dir: turned(pose, f.axis.dir), radius: f.axis.radius },
  };
}

/** towards is the face of a shape that looks furthest that way: flat, or null. */
export function towards(s: Shape, pose: Pose, way: Vec): Face | null {
  let best = -1, far = -Infinity;
  for (let i = 0; i < s.faces.length; i++) {
    const t = triangleOf(s, i);
    if (dot(turned(pose, normalOf(t)), way) < looks) continue;
    const d = dot(moved(pose, t[0]), way);
    if (d > far + inPlane) [best, far] = [i, d];
  }
  return best < 0 ? null : placed(faceAt(s, best), pose);
}

/** looks is the cosine within which a face looks a given way: 8 degrees. */
const looks = Math.cos((8 * Math.PI) / 180);

/** whole is all of a shape as if it were one face. */
export function whole(s: Shape, pose: Pose): Face {
  const all: Triangle[] = [];
  for (let i = 0; i < s.faces.length; i++) all.push(triangleOf(s, i).map((v) => moved(pose, v)) as Triangle);
  return { triangles: all, normal: null, axis: null };
}

export interface Measured {
  mm: number;
  kind: "gap" | "nearest" | "places";
  from: Vec;
  to: Vec;
  reach: Vec | null; // of a gap of faces that do not lie opposite each other: where the other face is
  centres: number | null; // between the axes of two round faces that are parallel
}

/** between is the gap of faces that are parallel, of others the distance where they are nearest. */
export function between(a: Face, b: Face): Measured {
  if (a.normal && b.normal && Math.abs(dot(a.normal, b.normal)) > flat) {
    const n = a.normal;
    const d = dot(minus(b.triangles[0][0], a.triangles[0][0]), n);
    const opposite = facing(a, b, n);
    const from = opposite ?? boxMiddle(a.triangles);
    const onA = plus(from, n, dot(minus(a.triangles[0][0], from), n));
    return { mm: Math.abs(d), kind: "gap", from: onA, to: plus(onA, n, d), reach: opposite ? null : boxMiddle(b.triangles), centres: null };
  }
  const near = nearest(a.triangles, b.triangles);
  const parallel = a.axis && b.axis && Math.abs(dot(a.axis.dir, b.axis.dir)) > flat;
  const off = parallel ? minus(b.axis!.at, a.axis!.at) : null;
  return { ...near, kind: "nearest", reach: null, centres: off && length(minus(off, times(a.axis!.dir, dot(off, a.axis!.dir)))) };
}

/** facing is a place of a that b lies opposite of; null where there is none. */
function facing(a: Face, b: Face, n: Vec): Vec | null {
  const middle = (t: Triangle): Vec => times(plus(plus(t[0], t[1]), t[2]), 1 / 3);
  const over = (p: Vec, f: Face): boolean => f.triangles.some((t) => t.every((_, i) => dot(cross(minus(t[(i + 1) % 3], t[i]), minus(p, t[i])), n) * dot(normalOf(t), n) >= -inPlane));
  const m = boxMiddle(a.triangles), w = boxMiddle(b.triangles);
  const tries = [times(plus(m, w), 0.5), m, w, ...a.triangles.map(middle), ...b.triangles.map(middle)];
  return tries.find((p) => over(p, a) && over(p, b)) ?? null;
}

function boxMiddle(ts: Triangle[]): Vec {
  const low: Vec = [Infinity, Infinity, Infinity], high: Vec = [-Infinity, -Infinity, -Infinity];
  for (const v of ts.flat()) for (let i = 0; i < 3; i++) [low[i], high[i]] = [Math.min(low[i], v[i]), Math.max(high[i], v[i])];
  return times(plus(low, high), 0.5);
}

/** Round is a triangle with the ball around it. */
interface Round {
  t: Triangle;
  c: Vec;
  r: number;
}

function round(t: Triangle): Round {
  const c = times(plus(plus(t[0], t[1]), t[2]), 1 / 3);
  return { t, c, r: Math.max(...t.map((v) => length(minus(v, c)))) };
}

/** nearest goes over all pairs whose balls could be nearer than the nearest so far. */
function nearest(as: Triangle[], bs: Triangle[]): { mm: number; from: Vec; to: Vec } {
  let best = { mm: Infinity, from: as[0][0], to: bs[0][0] };
  const right = bs.map(round);
  for (const a of as.map(round)) {
    for (const b of right) {
      if (Math.hypot(a.c[0] - b.c[0], a.c[1] - b.c[1], a.c[2] - b.c[2]) - a.r - b.r >= best.mm) continue;
      const d = apart(a.t, b.t);
      if (d.mm < best.mm) best = d;
    }
  }
  return best;
}

/** apart is the distance of two triangles: corner to side, edge to edge, or none where they cross. */
function apart(a: Triangle, b: Triangle): { mm: number; from: Vec; to: Vec } {
  let best = { mm: Infinity, from: a[0], to: b[0] };
  const take = (from: Vec, to: Vec): void => {
    const mm = length(minus(from, to));
    if (mm < best.mm) best = { mm, from, to };
  };
  for (const v of a) take(v, onTriangle(v, b));
  for (const v of b) take(onTriangle(v, a), v);
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) take(...edges(a[i], a[(i + 1) % 3], b[j], b[(j + 1) % 3]));
    const through = crossing(a[i], a[(i + 1) % 3], b) ?? crossing(b[i], b[(i + 1) % 3], a);
    if (through) take(through, through);
  }
  return best;
}

/** crossing is where an edge goes through a triangle. */
function crossing(p: Vec, q: Vec, t: Triangle): Vec | null {
  const n = normalOf(t);
  const [dp, dq] = [dot(minus(p, t[0]), n), dot(minus(q, t[0]), n)];
  if (dp * dq >= 0) return null;
  const x = plus(p, minus(q, p), dp / (dp - dq));
  return t.every((v, i) => dot(cross(minus(t[(i + 1) % 3], v), minus(x, v)), n) >= 0) ? x : null;
}

/** onTriangle is the place of a triangle that is nearest to a point. */
function onTriangle(p: Vec, t: Triangle): Vec {
  const n = normalOf(t);
  const inside = length(n) > 0 && t.every((v, i) => dot(cross(minus(t[(i + 1) % 3], v), minus(p, v)), n) >= 0);
  if (inside) return plus(p, n, dot(minus(t[0], p), n));
  const on = t.map((v, i) => onEdge(p, v, t[(i + 1) % 3]));
  return on.reduce((a, b) => (length(minus(b, p)) < length(minus(a, p)) ? b : a));
}

function onEdge(p: Vec, a: Vec, b: Vec): Vec {
  const e = minus(b, a);
  const l = dot(e, e);
  return plus(a, e, l === 0 ? 0 : Math.min(1, Math.max(0, dot(minus(p, a), e) / l)));
}

/** edges is where two edges are nearest to each other. */
function edges(a: Vec, b: Vec, c: Vec, d: Vec): [Vec, Vec] {
  const e = minus(b, a), f = minus(d, c), r = minus(a, c);
  const ee = dot(e, e), ff = dot(f, f), ef = dot(e, f), er = dot(e, r), fr = dot(f, r);
  const clamp = (x: number): number => Math.min(1, Math.max(0, x));
  const det = ee * ff - ef * ef;
  let s = det > 1e-12 ? clamp((ef * fr - er * ff) / det) : 0;
  let t = ff === 0 ? 0 : (ef * s + fr) / ff;
  if (t < 0 || t > 1) {
    t = clamp(t);
    s = ee === 0 ? 0 : clamp((ef * t - er) / ee);
  }
  return [plus(a, e, s), plus(c, f, t)];
}
