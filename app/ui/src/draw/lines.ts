// The true edges of what is drawn, as pencil lines in every view.

import type { Part, Piece, Scene } from "../protocol";
import { floats, whole } from "../dryfit/bytes";
import { onSide, type Side, type Vec3 } from "./views";

/** edgesOf returns both ends of every true edge of a part, or of all that is glued into one, in the
 * axes of its blank. */
export function edgesOf(part: Part, scene: Scene | null): [Vec3, Vec3][] {
  if (!scene) return [];
  if (part.shape !== "glue-up") {
    const piece = scene.pieces.find((p) => p.part === part.name);
    return piece ? own(piece, scene) : [];
  }
  const id = part.pieces[0];
  const inside = scene.pieces.filter((p) => id !== undefined && p.id.startsWith(id + "/"));
  const frame = inside[0];
  return inside.flatMap((p) => own(p, scene).map(([a, b]): [Vec3, Vec3] => [back(frame, out(p, a)), back(frame, out(p, b))]));
}

function own(piece: Piece, scene: Scene): [Vec3, Vec3][] {
  const mesh = scene.meshes.find((m) => m.key === piece.shape);
  if (!mesh) return [];
  const f = floats(mesh.edges);
  const lines: [Vec3, Vec3][] = [];
  for (let i = 0; i + 5 < f.length; i += 6) lines.push([[f[i], f[i + 1], f[i + 2]], [f[i + 3], f[i + 4], f[i + 5]]]);
  return lines;
}

/** faceOf is SVG path data of what is seen of a piece from the right side of the toy, z counted down:
 * the triangles that face there. */
export function faceOf(piece: Piece, scene: Scene): string {
  const mesh = scene.meshes.find((m) => m.key === piece.shape);
  if (!mesh) return "";
  const f = floats(mesh.corners), t = whole(mesh.triangles);
  let d = "";
  for (let i = 0; i + 2 < t.length; i += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => out(piece, [f[3 * t[i + k]], f[3 * t[i + k] + 1], f[3 * t[i + k] + 2]]));
    if ((b[0] - a[0]) * (c[2] - a[2]) - (b[2] - a[2]) * (c[0] - a[0]) <= 0) continue;
    d += "M" + [a, b, c].map((p) => `${p[0].toFixed(2)} ${(-p[2]).toFixed(2)}`).join("L") + "z";
  }
  return d;
}

/** out carries a place of a piece into the world, back one of the world into a piece. */
export function out(p: Piece, [x, y, z]: Vec3): Vec3 {
  const q = p.pose;
  return [0, 1, 2].map((i) => q[i] * x + q[3 + i] * y + q[6 + i] * z + q[9 + i]) as Vec3;
}

function back(p: Piece, v: Vec3): Vec3 {
  const q = p.pose, d = [0, 1, 2].map((i) => v[i] - q[9 + i]);
  return [0, 1, 2].map((k) => q[3 * k] * d[0] + q[3 * k + 1] * d[1] + q[3 * k + 2] * d[2]) as Vec3;
}

/** pencil is SVG path data of the edges as seen on a side, v up. */
export function pencil(edges: [Vec3, Vec3][], side: Side, size: Vec3): string {
  const seen = new Set<string>();
  let d = "";
  for (const [a, b] of edges) {
    const p = onSide(side, size, a).map((x) => x.toFixed(2)), q = onSide(side, size, b).map((x) => x.toFixed(2));
    const s = p.join(" "), t = q.join(" ");
    if (s === t || seen.has(s + t) || seen.has(t + s)) continue;
    seen.add(s + t);
    d += `M${s}L${t}`;
  }
  return d;
}
