// Tools that put something new on a side: a click or a drag on a view; with keys a mark is moved, or
// Enter takes the middle of the side.

import { useLayoutEffect, useState } from "preact/hooks";
import type { JSX } from "preact";
import { now } from "../store";
import { addWork, freeName } from "./edits";
import { arrow } from "./keys";
import { filed, shown, snapped } from "./lengths";
import type { Drawing, ToolId } from "./state";
import { shopWords, sideNames, type View } from "./views";

export const tools: { id: ToolId; name: string; hint: string }[] = [
  { id: "drill", name: "Drill", hint: "Click where the hole goes; or arrow keys and Enter, Enter alone for the middle" },
  { id: "cut-out", name: "Cut out", hint: "Drag across the opening; or arrow keys, and Enter at both its corners" },
  { id: "notch", name: "Notch", hint: "Drag across what is taken out; or arrow keys, and Enter at both its corners" },
  { id: "groove", name: "Groove", hint: "Drag along its middle line; or arrow keys, and Enter at both its ends" },
  { id: "saw", name: "Saw a line", hint: "Click its corners, the first to close; or arrow keys and Enter, twice to close" },
];

type Point = [number, number];

interface ToolView {
  on: {
    onPointerDown?: (e: PointerEvent) => void;
    onPointerMove?: (e: PointerEvent) => void;
    onPointerUp?: (e: PointerEvent) => void;
    onKeyDown?: (e: KeyboardEvent) => void;
  };
  shape: JSX.Element | null;
  says: string; // where the mark is
}

/** viewAt is the view at a place of the paper, or else the nearest. */
function viewAt(views: View[], [x, y]: Point): View {
  const off = (v: View) => Math.hypot(Math.max(v.x - x, 0, x - v.x - v.w), Math.max(v.y - v.h - y, 0, y - v.y));
  return [...views].sort((a, b) => off(a) - off(b))[0];
}

export function useTool(d: Drawing, views: View[], place: (e: { clientX: number; clientY: number }) => Point): ToolView {
  const [points, setPoints] = useState<Point[]>([]);
  const [view, setView] = useState<View | null>(null);
  const [hover, setHover] = useState<Point | null>(null);
  const [keyed, setKeyed] = useState(false); // hover is the mark that keys move
  useLayoutEffect(() => { // before the next key comes
    setPoints([]);
    setView(null);
    setHover(null);
    setKeyed(false);
  }, [d.tool]);
  const end = () => d.setTool("");
  const on = (v: View, p: Point): Point => [snapped(p[0] - v.x, d.rule.mm), snapped(v.y - p[1], d.rule.mm)];
  if (!d.tool) {
    return { on: { onPointerDown: () => d.choose({ work: -1, spot: "" }) }, shape: null, says: "" };
  }
  const press = (v: View, q: Point) => {
    if (d.tool === "drill") {
      void drill(d, v, q);
      return end();
    }
    if (d.tool === "saw") {
      const first = points[0];
      if (first && points.length > 2 && Math.hypot(first[0] - q[0], first[1] - q[1]) < 2 * d.rule.mm) {
        void saw(d, v, points);
        return end();
      }
      setView(v);
      return setPoints([...points, q]);
    }
    setView(v);
    setPoints([q]);
  };
  const release = (q: Point) => {
    if (!view || d.tool === "saw" || points.length === 0) return;
    if (same(q, points[0])) return end();
    void across(d, view, points[0], q);
    end();
  };
  const down = (e: PointerEvent) => {
    const p = place(e), v = view ?? viewAt(views, p);
    (e.currentTarget as Element).setPointerCapture(e.pointerId);
    press(v, on(v, p));
  };
  const move = (e: PointerEvent) => {
    setHover(place(e));
    setKeyed(false);
  };
  const side = view ?? (hover ? viewAt(views, hover) : views[0]); // that keys draw on
  const mark = hover ? on(side, hover) : ([side.w / 2, side.h / 2].map((x) => snapped(x, d.rule.mm)) as Point);
  const moveMark = (v: View, [x, y]: Point) => {
    setHover([v.x + Math.min(v.w, Math.max(0, x)), v.y - Math.min(v.h, Math.max(0, y))]);
    setKeyed(true);
  };
  const enter = () => {
    const close = d.tool === "saw" && points.length > 2 && (!keyed || same(mark, points[points.length - 1]));
    if (close) void saw(d, side, points);
    else if (keyed) return points.length > 0 && d.tool !== "saw" ? release(mark) : press(side, mark);
    else void inMiddle(d, side);
    end();
  };
  const keys = (e: KeyboardEvent) => {
    const by = arrow(e, d.rule.mm), turn = { PageDown: 1, PageUp: views.length - 1 }[e.key];
    if (by) moveMark(side, [mark[0] + by[0], mark[1] + by[1]]);
    else if (turn && points.length === 0) {
      const v = views[(views.indexOf(side) + turn) % views.length];
      moveMark(v, [v.w / 2, v.h / 2]);
    } else if (e.key === "Enter") enter();
    else if (e.key === "Escape") end();
    else return;
    e.preventDefault();
  };
  return {
    on: { onPointerDown: down, onPointerMove: move, onPointerUp: (e) => view && release(on(view, place(e))), onKeyDown: keys },
    shape: <>{view && hover && <Shape d={d} v={view} points={points} to={mark} />}{keyed && <Mark x={side.x + mark[0]} y={side.y - mark[1]} says={mark.map((x) => shown(x, d.hand.hand)).join(", ")} />}</>,
    says: keyed ? `${sideNames[side.side]}: ${shown(mark[0], d.hand.hand)} from left, ${shown(mark[1], d.hand.hand)} from bottom` : "",
  };
}

function same(a: Point, b: Point): boolean {
  return a[0] === b[0] && a[1] === b[1];
}

/** Mark is where a key draws next. */
export function Mark({ x, y, says }: { x: number; y: number; says: string }) {
  return (
    <g class="mark">
      <path style={{ transform: `translate(${x}px, ${y}px) scale(var(--u))` }} d="M-3 0H3M0-3V3" />
      <text class="measure" x={x} y={y} style={{ fontSize: "calc(2.2px * var(--u))" }} dx=".6em" dy="-.6em">{says}</text>
    </g>
  );
}

function Shape({ d, v, points, to }: { d: Drawing; v: View; points: Point[]; to: Point }) {
  const p = points.map(([x, y]): Point => [v.x + x, v.y - y]), q: Point = [v.x + to[0], v.y - to[1]];
  if (p.length === 0) return null;
  if (d.tool === "saw" || d.tool === "groove") return <polyline class="new" points={[...p, q].join(" ")} />;
  return <rect class="new" x={Math.min(p[0][0], q[0])} y={Math.min(p[0][1], q[1])} width={Math.abs(p[0][0] - q[0])} height={Math.abs(p[0][1] - q[1])} />;
}

/** usual is the text of the first named size of these that the toy has, or else a plain length. */
function usual(names: string[], inch: string, mm: string, units: string): string {
  const sizes = now().open?.toy?.sizes ?? [];
  return names.find((n) => sizes.some((s) => s.name === n)) ?? (units === "inch" ? inch : mm);
}

function text(d: Drawing, p: Point): string {
  return `[${filed(p[0], d.hand)}, ${filed(p[1], d.hand)}]`;
}

function holeNames(d: Drawing): string[] {
  return d.part.work.flatMap((w) => w.holes.map((h) => h.name));
}

function drill(d: Drawing, v: View, p: Point): Promise<boolean> {
  return drillAt(d, v, text(d, p));
}

function drillAt(d: Drawing, v: View, at: string): Promise<boolean> {
  const dia = usual(["dowel"], "1/4", "6", d.hand.own);
  return addWork(d.part, "drill", `{side: ${shopWords[v.side]}, dia: ${dia}, named: {${freeName("hole", holeNames(d))}: ${at}}}`);
}

function saw(d: Drawing, v: View, points: Point[]): Promise<boolean> {
  return addWork(d.part, "saw", `{side: ${shopWords[v.side]}, outline: [${points.map((p) => text(d, p)).join(", ")}]}`);
}

function across(d: Drawing, v: View, a: Point, b: Point): Promise<boolean> {
  const side = shopWords[v.side];
  if (d.tool === "groove") {
    const wide = usual(["ply"], "1/4", "6", d.hand.own);
    return addWork(d.part, "groove", `{side: ${side}, from: ${text(d, a)}, to: ${text(d, b)}, wide: ${wide}, depth: ${d.hand.own === "inch" ? "1/8" : "3"}}`);
  }
  const at = text(d, [Math.min(a[0], b[0]), Math.min(a[1], b[1])]), size = text(d, [Math.abs(a[0] - b[0]), Math.abs(a[1] - b[1])]);
  if (d.tool === "notch") return addWork(d.part, "notch", `{side: ${side}, at: ${at}, size: ${size}}`);
  return addWork(d.part, "cut-out", `{side: ${side}, outline: {rect: ${at}, size: ${size}, r: ${d.hand.own === "inch" ? "1/8" : "3"}}}`);
}

/** inMiddle does with a key what a click or drag does: in the middle of the side, a third of it large. */
function inMiddle(d: Drawing, v: View): Promise<boolean> {
  if (d.tool === "drill") return drillAt(d, v, "[middle, middle]");
  const s = (x: number) => Math.max(d.rule.mm, snapped(x, d.rule.mm));
  const a: Point = [s(v.w / 3), s(v.h / 3)], b: Point = [a[0] + s(v.w / 3), a[1] + s(v.h / 3)];
  if (d.tool === "saw") return addWork(d.part, "saw", `{side: ${shopWords[v.side]}, outline: [[0, 0], [${filed(v.w, d.hand)}, 0], [${filed(v.w, d.hand)}, ${filed(v.h, d.hand)}], [0, ${filed(v.h, d.hand)}]]}`);
  if (d.tool === "notch") return across(d, v, [0, v.h - s(v.h / 3)].map((x) => snapped(x, d.rule.mm)) as Point, [s(v.w / 3), v.h]);
  return across(d, v, a, d.tool === "groove" ? [b[0], a[1]] : b);
}
