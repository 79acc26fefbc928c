// Edits of the file that drawing makes.

import type { Corner, Edit, Part, Work } from "../protocol";
import { change } from "../store";
import { workPath } from "./state";

/** addWork puts an operation last on a part. */
export function addWork(part: Part, kind: string, body: string): Promise<boolean> {
  const { path, first } = workPath(part);
  const item = `{${kind}: ${body}}`;
  return change([{ op: "insert", path, value: first ? `[${item}]` : item, as: "yaml" }], `${kind} on ${part.name}`);
}

/** insertCorner puts a corner behind corner k of an outline. */
export function insertCorner(w: Work, k: number, x: string, y: string): Promise<boolean> {
  const at = k + 1 < w.corners.length ? `[${k + 1}]` : "[+]";
  return change([{ op: "insert", path: w.list + at, value: `[${x}, ${y}]`, as: "yaml" }], "another corner");
}

/** setRadius rounds a corner, or makes it sharp again where text is empty. */
export function setRadius(c: Corner, text: string): Promise<boolean> {
  if (c.radius) {
    const path = c.radius.path;
    if (!text || text === "0") return change([{ op: "remove", path }], "sharp corner");
    return change([{ op: "set", path, value: "r " + text, as: "text" }], "corner r " + text);
  }
  if (!text) return Promise.resolve(false);
  return change([{ op: "insert", path: c.path + "[+]", value: "r " + text, as: "text" }], "corner r " + text);
}

/** bend makes the side that ends in a corner an arc through a place, or straight again. */
export function bend(c: Corner, through: [string, string] | null): Promise<boolean> {
  const to = `[${c.x.text}, ${c.y.text}]`;
  const value = through ? `{to: ${to}, through: [${through[0]}, ${through[1]}]}` : to;
  return change([{ op: "set", path: c.path, value, as: "yaml" }], through ? "bend a side" : "straighten a side");
}

/** setMirror makes the corners one half of an outline, or all of it. */
export function setMirror(w: Work, mirror: string): Promise<boolean> {
  const long = w.list.endsWith(".points");
  const outline = long ? w.list.slice(0, -".points".length) : w.list;
  const intent = mirror ? "mirror " + mirror : "no mirror";
  if (!long) {
    const points = w.corners.map((c) => `[${c.x.text}, ${c.y.text}${c.radius ? ", r " + c.radius.text : ""}]`);
    if (w.corners.some((c) => c.arc.length > 0)) return Promise.resolve(false);
    return change([{ op: "set", path: outline, value: `{points: [${points.join(", ")}], mirror: ${mirror}}`, as: "yaml" }], intent);
  }
  const path = outline + ".mirror";
  if (!mirror) return change([{ op: "remove", path }], intent);
  return change([w.mirror ? { op: "set", path, value: mirror } : { op: "insert", path, value: mirror }], intent);
}

export function remove(path: string, intent: string): Promise<boolean> {
  return change([{ op: "remove", path }], intent);
}

/** moveWork puts operation k of a part at another place in the order. */
export function moveWork(part: Part, k: number, to: number): Promise<boolean> {
  if (to < 0 || to >= part.work.length || to === k) return Promise.resolve(false);
  const edits: Edit[] = [{ op: "move", path: `${part.path}.work[${k}]`, to: `[${to}]` }];
  return change(edits, "order of work on " + part.name);
}

/** freeName is name-1, name-2 or the first of them that none of the taken ones is. */
export function freeName(name: string, taken: Iterable<string>): string {
  const all = new Set(taken);
  for (let n = 1; ; n++) if (!all.has(`${name}-${n}`)) return `${name}-${n}`;
}
