// What a place that is moved is in line with, and where it has equal spacing: looked for, drawn, said.

import type { Part } from "../protocol";
import { symbols, type Hand } from "../units";
import { equalAt, type Equal } from "./equal";
import { exactWithin, shown, snapped } from "./lengths";
import type { Side, View } from "./views";

/** Guided is where a place goes, and why it goes there along each axis. */
export interface Guided {
  at: [number, number];
  lines: [number | null, number | null]; // that it is in line with
  equals: [Equal | null, Equal | null];
}

/** spotsOn are the corners and holes of a side but the one at path, mm. */
export function spotsOn(part: Part, side: Side, path: string): [number, number][] {
  return part.work.filter((w) => w.side === side).flatMap((w) => [...w.corners, ...w.holes])
    .flatMap((s): [number, number][] => (s.path !== path && s.x.mm !== null && s.y.mm !== null ? [[s.x.mm, s.y.mm]] : []));
}

/** guided is where a dragged place goes: along each axis in line with another place or the middle of
 * the side, or equally spaced, whichever is nearer within reach; else to the nearest mark of the rule. */
export function guided(raw: [number, number], others: [number, number][], size: [number, number], rule: number, reach: number): Guided {
  const out: Guided = { at: [0, 0], lines: [null, null], equals: [null, null] };
  for (const i of [0, 1] as const) {
    const along = others.map((o) => o[i]);
    const line = [...along, size[i] / 2].sort((a, b) => Math.abs(a - raw[i]) - Math.abs(b - raw[i]))[0];
    const equal = equalAt(raw[i], along, reach);
    const inLine = Math.abs(line - raw[i]) < reach;
    out.at[i] = inLine && (!equal || Math.abs(line - raw[i]) <= Math.abs(equal.at - raw[i]) + exactWithin) ? line : equal ? equal.at : snapped(raw[i], rule);
    mark(out, i, along, line);
  }
  return out;
}

/** stepped is where a place goes that a key brings to a mark of the rule, by so much from the one
 * before: to the mark, or to equal spacing that lies half a mark or less behind it. Along the other
 * axis it stays where it was. */
export function stepped(raw: [number, number], was: [number, number], by: [number, number], others: [number, number][], size: [number, number], rule: number): Guided {
  const out: Guided = { at: [...was], lines: [null, null], equals: [null, null] };
  for (const i of [0, 1] as const) {
    const along = others.map((o) => o[i]);
    const inLine = (x: number) => [...along, size[i] / 2].find((a) => Math.abs(a - x) <= exactWithin);
    if (by[i] !== 0) {
      const equal = inLine(raw[i]) === undefined ? equalAt(raw[i] - (Math.sign(by[i]) * rule) / 4, along, rule / 4 + exactWithin) : null;
      out.at[i] = equal ? equal.at : raw[i];
    }
    mark(out, i, along, inLine(out.at[i]) ?? NaN);
  }
  return out;
}

/** mark notes why a place is where it is along an axis. */
function mark(g: Guided, i: 0 | 1, along: number[], line: number): void {
  if (Math.abs(line - g.at[i]) <= exactWithin) g.lines[i] = line;
  g.equals[i] = equalAt(g.at[i], along, exactWithin);
}

/** guidesSay is what there is to hear of guides. */
export function guidesSay(g: Guided, h: Hand): string {
  const said = (mm: number) => `${shown(mm, h.hand)} ${symbols[h.hand]}`;
  return g.equals.flatMap((e, i) => (e ? [`equal spacing ${said(e.gap)} ${i === 0 ? "across" : "up and down"}`] : [])).join(", ");
}

/** Guides are the lines, and two equal marks with their length for each equal spacing. */
export function Guides({ g, v, unit, hand }: { g: Guided; v: View; unit: number; hand: Hand }) {
  const [x, y] = g.at, over = 3 * unit, tick = 0.7 * unit;
  return (
    <>
      {g.lines[0] !== null && <line class="guide" x1={v.x + g.lines[0]} x2={v.x + g.lines[0]} y1={v.y - v.h - over} y2={v.y + over} />}
      {g.lines[1] !== null && <line class="guide" y1={v.y - g.lines[1]} y2={v.y - g.lines[1]} x1={v.x - over} x2={v.x + v.w + over} />}
      {g.equals[0]?.marks.map(([a, b]) => (
        <g key={"x" + a} class="equal">
          <path d={`M${v.x + a} ${v.y - y - tick}v${2 * tick}M${v.x + a} ${v.y - y}H${v.x + b}M${v.x + b} ${v.y - y - tick}v${2 * tick}`} />
          <text class="measure" text-anchor="middle" x={v.x + (a + b) / 2} y={v.y - y + 2.4 * unit} font-size={1.8 * unit}>{shown(b - a, hand.hand)}</text>
        </g>
      ))}
      {g.equals[1]?.marks.map(([a, b]) => (
        <g key={"y" + a} class="equal">
          <path d={`M${v.x + x - tick} ${v.y - a}h${2 * tick}M${v.x + x} ${v.y - a}V${v.y - b}M${v.x + x - tick} ${v.y - b}h${2 * tick}`} />
          <text class="measure" text-anchor="end" x={v.x + x - unit} y={v.y - (a + b) / 2 + 0.6 * unit} font-size={1.8 * unit}>{shown(b - a, hand.hand)}</text>
        </g>
      ))}
    </>
  );
}
