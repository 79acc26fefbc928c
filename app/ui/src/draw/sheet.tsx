// The drafting paper: three views of a part, its edges in pencil, the work on it in ink, and what is
// chosen with handles.

import type { RefObject } from "preact";
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import type { Corner, Field, Hole, Scene, Work } from "../protocol";
import { useModel } from "../store";
import type { Hand } from "../units";
import { Drag } from "./drag";
import { insertCorner, remove } from "./edits";
import { guided, Guides, guidesSay, spotsOn, stepped, type Guided } from "./guides";
import { arrow, toPaper } from "./keys";
import { filed, shown, snapped } from "./lengths";
import { edgesOf, pencil } from "./lines";
import { Squares, squareSays } from "./squares";
import type { Drawing } from "./state";
import { useTool } from "./tools";
import { laid, sideNames, type Vec3, type View } from "./views";

const finger = 25; // px across, so that it can be hit on a screen: 24 is the least that WCAG 2.2 asks

/** useScale is how many px a mm of the paper is on the screen. */
function useScale(svg: RefObject<SVGSVGElement | null>, w: number, h: number): number {
  const [scale, set] = useState(1);
  useLayoutEffect(() => {
    const e = svg.current!;
    const look = () => set(Math.min(e.clientWidth / w, e.clientHeight / h) || 1);
    const watch = new ResizeObserver(look); // which looks at once, too
    watch.observe(e);
    return () => watch.disconnect();
  }, [w, h]);
  return scale;
}

export function Sheet({ d }: { d: Drawing }) {
  const scene = useModel((m): Scene | null => m.open?.scene ?? null);
  const svg = useRef<SVGSVGElement>(null);
  const size = d.part.size as Vec3;
  const { views, w, h } = laid(size, d.sides);
  const edges = edgesOf(d.part, scene);
  const unit = Math.max(w, h) / 100; // one hundredth of the paper: strokes and handles go by it
  const reach = Math.max(2 * unit, finger / 2 / useScale(svg, w, h));
  const place = (e: { clientX: number; clientY: number }): [number, number] => {
    const m = svg.current!.getScreenCTM()!.inverse();
    const p = new DOMPoint(e.clientX, e.clientY).matrixTransform(m);
    return [p.x, p.y];
  };
  const tool = useTool(d, views, place);
  const [told, tell] = useState(""); // of what is moved
  return (
    <>
      <svg ref={svg} class={"sheet" + (d.tool ? " with-tool" : "")} viewBox={`0 0 ${w} ${h}`} role="group" tabindex={0} aria-label={`${d.part.name}: three views`} style={{ "--u": unit }} {...tool.on}>
        <Squares units={d.hand.hand} from={[views[0].x, views[0].y]} x={0} y={0} w={w} h={h} />
        {views.map((v) => (
          <g key={v.side} transform={`translate(${v.x} ${v.y}) scale(1 -1)`} data-side={v.side}>
            <rect class="blank" width={v.w} height={v.h} />
            <path class="pencil" d={pencil(edges, v.side, size)} />
            {d.part.work.map((x, k) => (x.side === v.side ? <Line key={x.path} d={d} w={x} k={k} /> : null))}
          </g>
        ))}
        {views.map((v) => <text key={v.side} class="view-name" x={v.x} y={v.y - v.h - 1.5 * unit} font-size={2.2 * unit}>{sideNames[v.side]}</text>)}
        {views.map((v) => d.part.work.map((x, k) => (x.side === v.side ? <Spots key={x.path} d={d} w={x} k={k} v={v} place={place} unit={unit} reach={reach} views={views} tell={tell} /> : null)))}
        <text class="view-name" x={unit} y={h - unit} font-size={1.8 * unit}>{squareSays(d.hand.hand, w)}</text>
        {tool.shape}
      </svg>
      <p class="unseen" role="status">{tool.says || told}</p>
    </>
  );
}

/** Line is the outline of a work, to be chosen by a click. */
function Line({ d, w, k }: { d: Drawing; w: Work; k: number }) {
  const on = d.chosen.work === k;
  const choose = (e: Event) => {
    if (d.tool) return;
    e.stopPropagation();
    d.choose({ work: k, spot: "" });
  };
  return (
    <>
      {w.line && <path class={"touch"} d={w.line} onPointerDown={choose} />}
      {w.line && <path class={"line " + w.kind + (on ? " on" : "")} d={w.line} />}
      {w.holes.map((h, i) => <circle key={i} class={"line drill" + (on ? " on" : "")} cx={h.x.mm ?? 0} cy={h.y.mm ?? 0} r={h.dia / 2} onPointerDown={choose} />)}
    </>
  );
}

interface SpotsProps {
  d: Drawing;
  w: Work;
  k: number;
  v: View;
  views: View[];
  place: (e: { clientX: number; clientY: number }) => [number, number];
  unit: number;
  reach: number; // of a handle, mm
  tell: (says: string) => void;
}

/** Spots are the handles of a work: of its holes always, of its corners when it is chosen. */
function Spots({ d, w, k, v, place, unit, reach, tell }: SpotsProps) {
  const on = d.chosen.work === k;
  const at = (x: number, y: number): [number, number] => [v.x + x, v.y - y];
  return (
    <>
      {w.holes.map((h, i) => <Handle key={h.path || i} d={d} k={k} v={v} place={place} unit={unit} reach={reach} tell={tell} of={h} path={h.path} name={`hole ${h.name || i + 1} of ${d.part.name}`} shape="hole" />)}
      {on && !d.tool && w.list && w.corners.map((c, i) => {
        const n = w.corners[(i + 1) % w.corners.length];
        if (n.arc.length > 0 || (w.mirror && i === w.corners.length - 1)) return null;
        const x = ((c.x.mm ?? 0) + (n.x.mm ?? 0)) / 2, y = ((c.y.mm ?? 0) + (n.y.mm ?? 0)) / 2;
        const [px, py] = at(x, y);
        const add = () => insertCorner(w, i, filed(snapped(x, d.rule.mm), d.hand), filed(snapped(y, d.rule.mm), d.hand));
        return (
          <g key={"m" + c.path} class="between" role="button" tabindex={0} aria-label={`add a corner between corners ${i + 1} and ${((i + 1) % w.corners.length) + 1}`}
            onPointerDown={(e) => { e.stopPropagation(); void add(); }} onKeyDown={(e) => {
              if (e.key !== "Enter" && e.key !== " ") return;
              e.preventDefault();
              void add();
            }}>
            <circle class="reach" cx={px} cy={py} r={reach} /><circle class="sign" cx={px} cy={py} r={0.9 * unit} /><path d={`M${px - 0.5 * unit} ${py}h${unit}M${px} ${py - 0.5 * unit}v${unit}`} />
          </g>
        );
      })}
      {on && w.corners.map((c, i) => <Handle key={c.path} d={d} k={k} v={v} place={place} unit={unit} reach={reach} tell={tell} of={c} path={c.path} name={`corner ${i + 1} of ${d.part.name}`} shape="corner" />)}
    </>
  );
}

interface HandleProps {
  d: Drawing;
  k: number;
  v: View;
  place: (e: { clientX: number; clientY: number }) => [number, number];
  unit: number;
  reach: number; // of a handle, mm
  tell: (says: string) => void;
  of: Corner | Hole;
  path: string;
  name: string;
  shape: "hole" | "corner";
}

const lingers = 3000; // ms that guides stay which a key has shown
const spell = 1000; // ms within which another arrow key goes on with the same move

function Handle({ d, k, v, place, unit, reach, tell, of, path, name, shape }: HandleProps) {
  const [drag, setDrag] = useState<{ drag: Drag; off: [number, number]; at: [number, number] } | null>(null);
  const [guides, setGuides] = useState<Guided | null>(null);
  const others = () => spotsOn(d.part, v.side, path);
  const show = (g: Guided | null) => {
    setGuides(g);
    tell(g ? guidesSay(g, d.hand) : "");
  };
  const hide = useRef(0); // the timer that takes away what a key has shown
  useEffect(() => () => clearTimeout(hide.current), []);
  const keyed = useRef<{ drag: Drag; to: [number, number]; at: [number, number]; when: number } | null>(null);
  const x = drag ? drag.at[0] : (of.x.mm ?? 0), y = drag ? drag.at[1] : (of.y.mm ?? 0);
  const px = v.x + x, py = v.y - y;
  const chosen = d.chosen.work === k && d.chosen.spot === path && path !== "";
  const free = path !== "" && (of.x.path !== "" || of.y.path !== "");
  const axes = (): [{ path: string; mm: number }, { path: string; mm: number }] => [{ path: of.x.path, mm: of.x.mm ?? 0 }, { path: of.y.path, mm: of.y.mm ?? 0 }];
  const down = (e: PointerEvent) => {
    if (d.tool || e.button !== 0) return;
    e.stopPropagation();
    d.choose({ work: k, spot: path });
    if (!free) return;
    (e.currentTarget as Element).setPointerCapture(e.pointerId);
    const p = place(e);
    setDrag({ drag: new Drag(axes(), "move " + name), off: [px - p[0], py - p[1]], at: [x, y] });
    clearTimeout(hide.current);
  };
  const move = (e: PointerEvent) => {
    if (!drag) return;
    const p = place(e);
    const raw: [number, number] = [p[0] + drag.off[0] - v.x, v.y - (p[1] + drag.off[1])];
    raw[0] = Math.min(v.w, Math.max(0, raw[0])); // nothing is sawn beside the blank
    raw[1] = Math.min(v.h, Math.max(0, raw[1]));
    const to = held(guided(raw, others(), [v.w, v.h], d.rule.mm, 1.2 * unit));
    drag.drag.to(to.at[0], to.at[1]);
    setDrag({ ...drag, at: to.at });
    show(to);
  };
  const up = () => {
    setDrag(null);
    show(null);
  };
  /** held leaves where it is what is not written by itself. */
  const held = (g: Guided): Guided => {
    for (const i of [0, 1] as const) {
      const f = i === 0 ? of.x : of.y;
      if (!f.path) [g.at[i], g.lines[i], g.equals[i]] = [f.mm ?? 0, null, null];
    }
    return g;
  };
  const keys = (e: KeyboardEvent) => {
    if (d.tool) return; // the keys are the tool's
    const by = arrow(e, d.rule.mm);
    if (by && free) {
      e.preventDefault();
      d.choose({ work: k, spot: path });
      const old = keyed.current;
      const go = old && Date.now() - old.when < spell ? old : { drag: new Drag(axes(), "move " + name), to: [x, y] as [number, number], at: [x, y] as [number, number], when: 0 };
      go.to = [Math.min(v.w, Math.max(0, go.to[0] + by[0])), Math.min(v.h, Math.max(0, go.to[1] + by[1]))];
      go.when = Date.now();
      keyed.current = go;
      const to = held(stepped(go.to, go.at, by, others(), [v.w, v.h], d.rule.mm));
      go.at = to.at;
      go.drag.to(to.at[0], to.at[1]);
      show(to);
      clearTimeout(hide.current);
      hide.current = window.setTimeout(() => show(null), lingers);
    } else if ((e.key === "Delete" || e.key === "Backspace") && path) {
      e.preventDefault();
      toPaper();
      void remove(path, "remove " + name);
      d.choose({ work: k, spot: "" });
    } else if (e.key === "Enter" || e.key === " ") {
      e.preventDefault();
      d.choose({ work: k, spot: path });
    }
  };
  return (
    <>
      {guides && <Guides g={guides} v={v} unit={unit} hand={d.hand} />}
      <g class={"handle " + shape + (chosen ? " chosen" : "") + (free ? "" : " fixed")} role="button" tabindex={0} aria-pressed={chosen}
        aria-label={`${name}, ${placed(of.x, x, d.hand)} from left, ${placed(of.y, y, d.hand)} from bottom`}
        onPointerDown={down} onPointerMove={move} onPointerUp={up} onPointerCancel={up} onKeyDown={keys}>
        <circle class="reach" cx={px} cy={py} r={reach} />
        {shape === "corner" ? <rect x={px - 0.8 * unit} y={py - 0.8 * unit} width={1.6 * unit} height={1.6 * unit} /> : <path d={`M${px - 1.1 * unit} ${py}h${2.2 * unit}M${px} ${py - 1.1 * unit}v${2.2 * unit}`} />}
        {drag && <text class="measure" x={px + 1.5 * unit} y={py - 1.5 * unit} font-size={2 * unit}>{shown(x, d.hand.hand)}, {shown(y, d.hand.hand)}</text>}
      </g>
    </>
  );
}

/** placed says where something is: as it is written, or in the units of a user who has others. */
function placed(f: Field, mm: number, h: Hand): string {
  return h.own === h.hand && f.text ? f.text : shown(mm, h.hand);
}
