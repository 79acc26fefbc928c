// Shapes as few triangles as they need. The program's shapes are cut at every corner that touches
// them, so that they are closed; a picture needs no more than the outline of each flat face, and
// is drawn several times as fast.

import { ShapeUtils, Vector2 } from "three";
import { normalOf, triangleOf, type Shape, type Triangle } from "./measure";
import { cross, dot, length, minus, unit, type Vec } from "./space";

/** fewer is a shape of the same faces with the triangles of each plane joined and cut anew. */
export function fewer(s: Shape): Shape {
  const planes = new Map<string, number[]>();
  for (let i = 0; i < s.faces.length; i++) {
    const t = triangleOf(s, i), n = normalOf(t);
    const key = [s.faces[i], ...n.map((x) => Math.round(x * 500)), Math.round(dot(n, t[0]) * 50)].join();
    const list = planes.get(key);
    if (list) list.push(i);
    else planes.set(key, [i]);
  }
  const triangles: number[] = [], faces: number[] = [];
  for (const plane of planes.values()) {
    const own = plane.flatMap((i) => [...s.triangles.subarray(3 * i, 3 * i + 3)]);
    const cut = plane.length > 2 ? joined(s, plane, own) : null;
    const out = cut && cut.length < own.length ? cut : own;
    triangles.push(...out);
    for (let i = 0; i < out.length / 3; i++) faces.push(s.faces[plane[0]]);
  }
  return { corners: s.corners, triangles: Uint32Array.from(triangles), faces: Uint32Array.from(faces) };
}

/** same is by how much of it the area of a face may differ once it has been cut anew. */
const same = 1e-3;

/** straight is how far, in mm, a corner is off the line of its neighbours that is left out. */
const straight = 2e-4;

/** joined is the triangles of a plane cut anew from its outline; null where that is not plain, as
 * where it touches itself. */
function joined(s: Shape, plane: number[], own: number[]): number[] | null {
  const loops = outlines(own);
  if (!loops) return null;
  const at = (c: number): Vec => [s.corners[3 * c], s.corners[3 * c + 1], s.corners[3 * c + 2]];
  const largest = plane.map((i) => triangleOf(s, i)).reduce((a, b) => (area(b) > area(a) ? b : a));
  const n = normalOf(largest);
  const u = unit(minus(largest[1], largest[0])), v = cross(n, u);
  const flat = (c: number): Vector2 => new Vector2(dot(at(c), u), dot(at(c), v));
  const rings = loops
    .map((l) => l.filter((c, i) => off(at(l[(i + l.length - 1) % l.length]), at(c), at(l[(i + 1) % l.length])) > straight))
    .filter((l) => l.length > 2)
    .map((l) => ({ corners: l, points: l.map(flat), area: ShapeUtils.area(l.map(flat)) }));
  const out: number[] = [];
  const holes = rings.filter((r) => r.area < 0);
  for (const ring of rings.filter((r) => r.area > 0)) {
    const mine = holes.filter((h) => inside(h.points[0], ring.points));
    const corners = [ring, ...mine].flatMap((r) => r.corners);
    for (const t of ShapeUtils.triangulateShape(ring.points, mine.map((h) => h.points))) out.push(...t.map((i) => corners[i]));
  }
  const total = (list: number[]): number => {
    let sum = 0;
    for (let i = 0; i < list.length; i += 3) sum += dot(cross(minus(at(list[i + 1]), at(list[i])), minus(at(list[i + 2]), at(list[i]))), n);
    return sum;
  };
  return Math.abs(total(out) - total(own)) <= same * Math.abs(total(own)) ? out : null;
}

function area(t: Triangle): number {
  return length(cross(minus(t[1], t[0]), minus(t[2], t[0])));
}

function off(a: Vec, b: Vec, c: Vec): number {
  const l = length(minus(c, a));
  return l === 0 ? Infinity : length(cross(minus(b, a), minus(c, a))) / l;
}

/** outlines is what is left of the sides of triangles once those that two share are taken away, as
 * rings; null where a corner has two ways on. */
function outlines(triangles: number[]): number[][] | null {
  const next = new Map<number, number[]>();
  const take = (a: number, b: number): boolean => {
    const list = next.get(b);
    const i = list?.indexOf(a) ?? -1;
    if (i < 0) return false;
    list!.splice(i, 1);
    return true;
  };
  for (let i = 0; i < triangles.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      const a = triangles[i + k], b = triangles[i + ((k + 1) % 3)];
      if (take(a, b)) continue;
      const list = next.get(a);
      if (list) list.push(b);
      else next.set(a, [b]);
    }
  }
  const out: number[][] = [];
  for (const [from, list] of next) {
    if (list.length > 1) return null;
    if (list.length === 0) continue;
    const ring: number[] = [];
    for (let c = from; ; ) {
      const on = next.get(c);
      if (!on || on.length !== 1) return null;
      ring.push(c);
      c = on.pop()!;
      if (c === from) break;
    }
    out.push(ring);
  }
  return out;
}

function inside(p: Vector2, ring: Vector2[]): boolean {
  let is = false;
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length];
    if (a.y > p.y !== b.y > p.y && p.x < a.x + ((p.y - a.y) / (b.y - a.y)) * (b.x - a.x)) is = !is;
  });
  return is;
}
