// What is drawn over the picture in ink: places of findings, where things touch, dimension lines.
// It is a drawing of its own on top, so that its lines and words are sharp at any distance.

import { Vector3, type PerspectiveCamera } from "three";
import type { Vec } from "./space";

export type Mark =
  | { kind: "pin"; at: Vec; says: string }
  | { kind: "touch"; at: Vec; says: string }
  | { kind: "from"; at: Vec }
  | { kind: "dimension"; from: Vec; to: Vec; reach: Vec | null; says: string };

const svg = "http://www.w3.org/2000/svg";
const arrow = 9; // px long
const pinSize = 7; // px
const wordsOff = 14; // px from the mark

export class Marks {
  private readonly sheet = document.createElementNS(svg, "svg");
  private marks: Mark[] = [];

  constructor(place: HTMLElement) {
    this.sheet.setAttribute("class", "marks");
    this.sheet.setAttribute("aria-hidden", "true"); // all of it is said in words beside
    place.append(this.sheet);
  }

  end(): void {
    this.sheet.remove();
  }

  set(marks: Mark[]): void {
    this.marks = marks;
  }

  /** draw puts the marks where the camera sees them. */
  draw(camera: PerspectiveCamera, width: number, height: number): void {
    const on = (v: Vec): [number, number] => {
      const p = new Vector3(...v).project(camera);
      return [((p.x + 1) / 2) * width, ((1 - p.y) / 2) * height];
    };
    const out: Element[] = [];
    for (const m of this.marks) {
      if (m.kind === "dimension") out.push(...dimension(on(m.from), on(m.to), m.reach && on(m.reach), m.says, width, height));
      else if (m.kind === "from") out.push(dot(on(m.at)));
      else out.push(...spot(on(m.at), m, width, height));
    }
    this.sheet.replaceChildren(...out);
  }
}

function element(name: string, attributes: Record<string, string | number>, text = ""): Element {
  const e = document.createElementNS(svg, name);
  for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, String(v));
  e.textContent = text;
  return e;
}

function dot([x, y]: [number, number]): Element {
  return element("circle", { cx: x, cy: y, r: 3.5, class: "mark-dot" });
}

function spot([x, y]: [number, number], m: { kind: string; says: string }, width: number, height: number): Element[] {
  const out = [element("circle", { cx: x, cy: y, r: pinSize, class: "mark-ring" })];
  if (m.kind === "touch") { // a cross where they meet
    const d = pinSize * 1.6;
    out.push(element("path", { d: `M${x - d} ${y}h${2 * d}M${x} ${y - d}v${2 * d}`, class: "mark-line" }));
  } else {
    out.push(dot([x, y]));
  }
  if (m.says) out.push(words(x + wordsOff, y - wordsOff, m.says, width, height));
  return out;
}

/** words are kept on the sheet. */
function words(x: number, y: number, says: string, width: number, height: number): Element {
  const ends = x > width * 0.6;
  const at = Math.min(width - 8, Math.max(8, ends ? x - 2 * wordsOff : x));
  return element("text", { x: at, y: Math.min(height - 8, Math.max(20, y)), class: "mark-words", "text-anchor": ends ? "end" : "start" }, says);
}

function dimension(a: [number, number], b: [number, number], reach: [number, number] | null, says: string, width: number, height: number): Element[] {
  const dx = b[0] - a[0], dy = b[1] - a[1], l = Math.hypot(dx, dy);
  const out: Element[] = [];
  if (reach) out.push(element("line", { x1: b[0], y1: b[1], x2: reach[0], y2: reach[1], class: "mark-reach" }));
  const middle: [number, number] = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
  if (l > 1) {
    for (const c of ["mark-halo", "mark-size"]) out.push(element("line", { x1: a[0], y1: a[1], x2: b[0], y2: b[1], class: c }));
    const [ux, uy] = [dx / l, dy / l];
    if (l > 3 * arrow) {
      for (const [p, s] of [[a, 1], [b, -1]] as [[number, number], number][]) {
        const tip = (k: number): string => `${p[0] + s * ux * arrow - k * uy * arrow * 0.35} ${p[1] + s * uy * arrow + k * ux * arrow * 0.35}`;
        out.push(element("path", { d: `M${p[0]} ${p[1]}L${tip(1)}L${tip(-1)}Z`, class: "mark-arrow" }));
      }
    }
  }
  out.push(dot(a), dot(b));
  // Beside the line, on the side that is up.
  const [nx, ny] = l > 1 ? (dx > 0 ? [dy / l, -dx / l] : [-dy / l, dx / l]) : [0, -1];
  out.push(words(middle[0] + nx * wordsOff, middle[1] + ny * wordsOff, says, width, height));
  return out;
}
