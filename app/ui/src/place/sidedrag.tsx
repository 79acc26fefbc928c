// Dragging the pieces of the whole toy in the side view: along it, and up and down. What moves is
// the line of the file that says where the piece sits; the toy follows.

import { useEffect, useRef, useState } from "preact/hooks";
import { Drag } from "../draw/drag";
import { arrow } from "../draw/keys";
import type { Build, Piece, Scene } from "../protocol";
import { say, useModel } from "../store";
import { shown, type Rule } from "../draw/lengths";
import { useHand } from "../units";
import { following, hold, stopAt, topOf, type Span } from "./hold";

const axes = [0, 2] as const; // forward and up, as the side view has them

/** Box is from where to where a piece is, forward and up. */
export type Box = [Span, Span];

interface Moving {
  drag: Drag;
  from: Box; // when it was taken
  grip: [number, number]; // of the pointer
  by: [number, number];
  lines: [number | null, number | null];
  over: boolean; // let go; shown until the toy has followed
  warned: boolean;
}

interface Props {
  p: Piece;
  scene: Scene;
  rule: Rule;
  reach: number; // mm within which it goes in line with others
  boxOf: (p: Piece) => Box;
  place: (e: PointerEvent) => [number, number]; // of a pointer, forward and up
  still: (held: boolean) => void; // holds the paper still
}

const wait = 1000; // ms until what was let go is shown where the toy has it, whatever came

export function usePieceDrag({ p, scene, rule, reach, boxOf, place, still }: Props) {
  const b = useModel((m): Build | null => m.open?.builds?.lists[0] ?? null);
  const [m, set] = useState<Moving | null>(null);
  const { hand } = useHand();
  const keyed = useRef<{ drag: Drag; by: [number, number]; at: number } | null>(null);
  const holds = axes.map((a) => hold(b, p.id, a));
  const now = boxOf(p);
  const name = topOf(p.id);
  const begin = () => new Drag([{ path: holds[0].path, mm: 0 }, { path: holds[1].path, mm: 0 }], "place " + name);
  const off: [number, number] = m ? [m.from[0][0] + m.by[0] - now[0][0], m.from[1][0] + m.by[1] - now[1][0]] : [0, 0];
  const there = Math.hypot(...off) < 0.01;
  useEffect(() => {
    if (!m?.over) return;
    if (there) return set(null);
    const t = setTimeout(() => set(null), wait);
    return () => clearTimeout(t);
  }, [m?.over, there]);
  const others = (axis: 0 | 1): Span[] => {
    const along = following(b, p.id);
    return scene.pieces.filter((x) => !along.has(topOf(x.id))).map((x) => boxOf(x)[axis]);
  };
  const down = (e: PointerEvent) => {
    if (e.button !== 0) return;
    (e.currentTarget as Element).setPointerCapture(e.pointerId);
    still(true);
    set({ drag: begin(), from: now, grip: place(e), by: [0, 0], lines: [null, null], over: false, warned: false });
  };
  const move = (e: PointerEvent) => {
    if (!m || m.over) return;
    const at = place(e), raw = [at[0] - m.grip[0], at[1] - m.grip[1]];
    const by: [number, number] = [0, 0], lines: [number | null, number | null] = [null, null];
    for (const i of [0, 1] as const) {
      if (!holds[i].path) continue;
      const s = stopAt(raw[i], m.from[i], others(i), rule.mm, reach);
      by[i] = s.by;
      lines[i] = s.by === 0 ? null : s.line; // where it was already it need not be told
    }
    const most = Math.abs(raw[0]) > Math.abs(raw[1]) ? 0 : 1;
    const stuck = !m.warned && Math.abs(raw[most]) > 2 * reach && holds[most].why !== "";
    if (stuck) say(holds[most].why);
    m.drag.to(...by);
    set({ ...m, by, lines, warned: m.warned || stuck });
  };
  const up = () => {
    still(false);
    set(m && (m.by[0] !== 0 || m.by[1] !== 0) ? { ...m, lines: [null, null], over: true } : null);
  };
  const keys = (e: KeyboardEvent): boolean => {
    const by = arrow(e, rule.mm);
    if (!by) return false;
    e.preventDefault();
    const axis = by[0] !== 0 ? 0 : 1;
    if (!holds[axis].path) {
      say(holds[axis].why);
      return true;
    }
    const old = keyed.current, fresh = !old || Date.now() - old.at > wait;
    const k = fresh ? { drag: begin(), by: [0, 0] as [number, number], at: 0 } : old;
    k.by[axis] += by[axis];
    k.at = Date.now();
    keyed.current = k;
    k.drag.to(...k.by);
    return true;
  };
  const measure = m && !m.over && (m.by[0] !== 0 || m.by[1] !== 0) ? m.by.map((x, i) => (x === 0 ? "" : shown(Math.abs(x), hand) + (i === 0 ? (x > 0 ? " forward" : " back") : x > 0 ? " up" : " down"))).filter(Boolean).join(", ") : "";
  return { off, lines: m?.lines ?? [null, null], measure, free: holds.some((h) => h.path !== ""), keys, on: { onPointerDown: down, onPointerMove: move, onPointerUp: up, onPointerCancel: up } };
}
