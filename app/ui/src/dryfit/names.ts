// What moves, in plain words: "front wheels", "the trailer", not the names of rods in the file.

import type { Scene } from "../protocol";
import { rolls, swung, type Rig } from "./bodies";

/** wheelsName is what one calls the wheels on an axle: by where they are on what carries them. */
export function wheelsName(scene: Scene, rig: Rig, body: number): string {
  const b = scene.bodies[body];
  const row = scene.bodies.filter((o) => o.kind === "wheels" && o.on === b.on && Math.abs(o.axis[2]) < 0.5);
  const spots = [...new Set(row.map((o) => Math.round(o.at[0])))].sort((x, y) => x - y);
  const k = spots.indexOf(Math.round(b.at[0]));
  const n = scene.pieces.filter((p) => p.body === body).length;
  const what = n > 2 ? "wheels" : "wheel"; // an axle with one wheel, or more
  const where = spots.length < 2 ? "" : k === 0 ? "rear " : k === spots.length - 1 ? "front " : spots.length === 3 ? "middle " : `${ordinal(spots.length - k)} `;
  const beside = row.filter((o) => Math.round(o.at[0]) === spots[k]);
  const side = beside.length === 2 ? (b.at[1] > (beside[0].at[1] + beside[1].at[1]) / 2 ? "left " : "right ") : "";
  const link = rig.links.find((l) => l.body === b.on);
  const of = link ? ` of ${thing(scene, swung(rig, link.by))}` : "";
  return (rolls(b, scene) ? where + side + what : `turning ${b.name}`) + of;
}

function ordinal(n: number): string {
  return ["", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth"][n] ?? `${n}th`;
}

/** thing is what one calls pieces that move together: the word that the names of those of wood have
 * in common, else the largest of them. */
export function thing(scene: Scene, bodies: number[]): string {
  const size = new Map(scene.meshes.map((m) => [m.key, m.size[0] * m.size[1] * m.size[2]]));
  const mine = scene.pieces
    .filter((p) => bodies.includes(p.body) && scene.bodies[p.body].kind !== "wheels")
    .sort((a, b) => (size.get(b.shape) ?? 0) - (size.get(a.shape) ?? 0));
  if (mine.length === 0) return "it";
  const tops = [...new Set(mine.map((p) => p.id.split("/")[0]))];
  const words = tops.map((t) => t.split("-")[0]);
  const most = words.filter((w) => w === words[0]).length;
  return "the " + (most > 1 ? words[0] : plain(tops[0]));
}

/** plain is the name of a piece as one would say it: "core of the body", "wheel 4". */
export function plain(id: string): string {
  const words = id.split("/").map((w) => w.replace(/-/g, " ").replace(/\.(\d+)$/, " $1"));
  const own = words.pop()!;
  const of = words.filter((w) => !own.startsWith(w)).reverse();
  return [own, ...of.map((w) => "of the " + w)].join(" ");
}

/** swingName is what swings at a hinge; with the name of the hinge where two would be called alike. */
export function swingName(scene: Scene, rig: Rig, body: number): string {
  const name = (k: number): string => thing(scene, swung(rig, k));
  const alike = scene.bodies.some((b, k) => k !== body && b.kind === "hinge" && name(k) === name(body));
  return name(body) + (alike ? ` (${plain(scene.bodies[body].name)})` : "");
}
