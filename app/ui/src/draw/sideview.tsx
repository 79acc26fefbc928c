// The whole toy from its right side, full of what one sketches first: outlines on a floor line,
// circles for wheels. Pieces are dragged along the toy or up and down where the file says where they
// sit; outlines and wheels drawn here become parts with their place.

import { useRef, useState } from "preact/hooks";
import type { Edit, Piece, Scene, Toy } from "../protocol";
import { change, say, useModel } from "../store";
import { freeName } from "./edits";
import { arrow } from "./keys";
import { useHand, type Hand } from "../units";
import { filed, shown, snapped, type Rule } from "./lengths";
import { edgesOf, faceOf, out } from "./lines";
import { Squares, squareSays } from "./squares";
import type { Vec3 } from "./views";
import { usePieceDrag, type Box } from "../place/sidedrag";
import { Mark } from "./tools";
import { wheelEdits } from "./wheels";

interface Props {
  toy: Toy;
  rule: Rule;
  open: (path: string) => void;
}

type Point = [number, number]; // x forward, z up

export function SideView({ toy, rule, open }: Props) {
  const scene = useModel((m): Scene | null => m.open?.scene ?? null);
  const svg = useRef<SVGSVGElement>(null);
  const hand = useHand();
  const [tool, setTool] = useState<"" | "outline" | "wheel">("");
  const [points, setPoints] = useState<Point[]>([]);
  const [hover, setHover] = useState<Point | null>(null);
  const [keyed, setKeyed] = useState(false); // hover is the mark that keys move
  const flat = toy.stock.filter((s) => s.form === "board" || s.form === "sheet");
  const [stock, setStock] = useState(flat[0]?.name ?? "");
  const [still, setStill] = useState<Scene | null>(null); // the toy as it was when a piece was taken
  if (!scene) return <p class="wait">Laying the toy out …</p>;
  const seen = still ?? scene;
  const margin = 0.15 * Math.max(seen.high[0] - seen.low[0], 60);
  const x0 = seen.low[0] - margin, w = seen.high[0] - seen.low[0] + 2 * margin;
  const top = seen.high[2] + 1.5 * margin, h = top - seen.floor + margin;
  const u = w / 100;
  const place = (e: PointerEvent): Point => {
    const p = new DOMPoint(e.clientX, e.clientY).matrixTransform(svg.current!.getScreenCTM()!.inverse());
    return [p.x, -p.y];
  };
  const from = lowerBack(toy, seen);
  const snap = (p: number[]): Point => p.map((x, i) => from[i] + snapped(x - from[i], rule.mm)) as Point;
  const at = (e: PointerEvent): Point => snap(place(e));
  const press = async (p: Point) => {
    if (tool === "wheel") {
      leave();
      await wheelAt(toy, scene, p, rule, hand);
      return;
    }
    const first = points[0];
    if (first && points.length > 2 && Math.hypot(first[0] - p[0], first[1] - p[1]) < 1.5 * u) return finish();
    setPoints([...points, p]);
  };
  const finish = async () => {
    if (points.length > 2) {
      const path = await partOf(toy, scene, points, stock, rule, hand);
      if (path) open(path);
    }
    leave();
  };
  const leave = () => {
    setPoints([]);
    setHover(null);
    setKeyed(false);
    setTool("");
  };
  const take = (t: "outline" | "wheel") => {
    leave();
    if (tool !== t) setTool(t);
    svg.current?.focus(); // so that Enter and Escape are the tool's
  };
  const keys = (e: KeyboardEvent) => {
    if (!tool) return;
    const by = arrow(e, rule.mm), last = points[points.length - 1];
    if (by) {
      const [x, z] = hover ?? snap([x0 + w / 2, top - h / 2]);
      setHover([Math.min(x0 + w, Math.max(x0, x + by[0])), Math.min(top, Math.max(top - h, z + by[1]))]);
      setKeyed(true);
    } else if (e.key === "Enter" && keyed && hover && !(last && last[0] === hover[0] && last[1] === hover[1])) void press(hover);
    else if (e.key === "Enter" && tool === "outline") void finish();
    else if (e.key === "Escape") leave();
    else return;
    e.preventDefault();
  };
  const says = hover && keyed ? `${shown(hover[0] - from[0], hand.hand)} along, ${shown(hover[1] - from[1], hand.hand)} up` : "";
  return (
    <>
      <div class="tools" role="group" aria-label="Tools">
        <button aria-pressed={tool === "outline"} onClick={() => take("outline")}>Outline of a new part</button>
        <label>from <select value={stock} onChange={(e) => setStock((e.target as HTMLSelectElement).value)}>{flat.map((s) => <option key={s.name} value={s.name}>{s.name}, {shown(s.size, hand.hand)} thick</option>)}</select></label>
        <button aria-pressed={tool === "wheel"} onClick={() => take("wheel")}>Wheels</button>
        <span role="status" class="quiet">{tool === "outline" ? "Click its corners, the first to close; or arrow keys and Enter, twice to close" : tool === "wheel" ? "Click where their axle goes through a part; or arrow keys and Enter" : ""}</span>
      </div>
      <svg ref={svg} class={"sheet" + (tool ? " with-tool" : "")} viewBox={`${x0} ${-top} ${w} ${h}`} tabindex={0} role="group" aria-label="The whole toy from its right side"
        style={{ "--u": u }} onPointerDown={(e) => tool && press(at(e))} onPointerMove={(e) => { if (tool) { setHover(at(e)); setKeyed(false); } }} onKeyDown={keys}>
        <Squares units={hand.hand} from={[from[0], -scene.floor]} x={x0} y={-top} w={w} h={h} />
        {farFirst(scene).map((p) => <Outline key={p.id} p={p} toy={toy} scene={scene} open={open} busy={tool !== ""} rule={rule} u={u} place={place} still={(held) => setStill(held ? scene : null)} />)}
        <line class="floor" x1={x0} x2={x0 + w} y1={-scene.floor} y2={-scene.floor} />
        <text class="view-name" x={x0 + u} y={-scene.floor + 3 * u} font-size={1.8 * u}>floor; {squareSays(hand.hand, w)}</text>
        {points.length > 0 && <polyline class="new" points={[...points, hover ?? points[0]].map(([x, z]) => `${x},${-z}`).join(" ")} />}
        {tool === "wheel" && hover && <circle class="new" cx={hover[0]} cy={-hover[1]} r={wheelRadius(toy)} />}
        {tool && keyed && hover && <Mark x={hover[0]} y={-hover[1]} says={says} />}
      </svg>
      <p class="unseen" role="status">{says}</p>
    </>
  );
}

function wheelRadius(toy: Toy): number {
  return (toy.parts.find((p) => p.shape === "disc")?.size[0] ?? 32) / 2;
}

interface OutlineProps {
  p: Piece;
  toy: Toy;
  scene: Scene;
  open: (path: string) => void;
  busy: boolean;
  rule: Rule;
  u: number;
  place: (e: PointerEvent) => Point;
  still: (held: boolean) => void;
}

/** Outline is a piece as seen from the right: its edges, over a face that can be clicked and dragged. */
function Outline({ p, toy, scene, open, busy, rule, u, place, still }: OutlineProps) {
  const part = toy.parts.find((x) => x.name === p.part);
  const look = useModel((m) => m.look?.parts ?? null);
  const boxOf = (q: Piece): Box => spanned(q, sizeOf(q, scene));
  const drag = usePieceDrag({ p, scene, rule, reach: u, boxOf, place, still });
  if (!part) return null;
  const lines = edgesOf({ ...part, name: p.part }, { ...scene, pieces: [p] }).map(([a, b]) => [out(p, a), out(p, b)] as const);
  const d = lines.map(([a, b]) => `M${a[0].toFixed(2)} ${(-a[2]).toFixed(2)}L${b[0].toFixed(2)} ${(-b[2]).toFixed(2)}`).join("");
  const [x, z] = boxOf(p), [dx, dz] = drag.off, far = 1000 * u; // guides go beyond the paper
  return (
    <>
      <g class={"piece" + (look?.includes(p.part) ? " on" : "") + (drag.free ? " free" : "")} role="button" tabindex={0} aria-label={`${p.id}: ${drag.free ? "arrow keys move it, " : ""}Enter opens its drawing`}
        transform={`translate(${dx} ${-dz})`} {...(busy ? {} : drag.on)}
        onDblClick={() => !busy && open(part.path)} onKeyDown={(e) => busy || drag.keys(e) || (e.key === "Enter" && open(part.path))}>
        <rect class="touch" x={x[0]} y={-z[1]} width={x[1] - x[0]} height={z[1] - z[0]} />
        <path class="wood" d={faceOf(p, scene)} style={{ "--wood": `rgb(${p.colour.join(" ")})` }} />
        <path class="pencil ink" d={d} />
      </g>
      {drag.lines[0] !== null && <line class="guide" x1={drag.lines[0]} x2={drag.lines[0]} y1={-far} y2={far} />}
      {drag.lines[1] !== null && <line class="guide" y1={-drag.lines[1]} y2={-drag.lines[1]} x1={-far} x2={far} />}
      {drag.measure && <text class="measure" x={x[0] + dx} y={-(z[1] + dz) - 1.5 * u} font-size={2.2 * u}>{drag.measure}</text>}
    </>
  );
}

/** farFirst is the pieces from the far side of the toy to the near one, as they cover each other. */
function farFirst(scene: Scene): Piece[] {
  const near = new Map(scene.pieces.map((p) => [p, Math.min(...corners(p, sizeOf(p, scene)).map((c) => c[1]))]));
  return [...scene.pieces].sort((a, b) => near.get(b)! - near.get(a)!);
}

function sizeOf(p: Piece, scene: Scene): Vec3 {
  return scene.meshes.find((m) => m.key === p.shape)?.size ?? [0, 0, 0];
}

/** spanned is from where to where a piece is, forward and up. */
function spanned(p: Piece, size: Vec3): Box {
  const c = corners(p, size), xs = c.map((v) => v[0]), zs = c.map((v) => v[2]);
  return [[Math.min(...xs), Math.max(...xs)], [Math.min(...zs), Math.max(...zs)]];
}

function corners(p: Piece, [l, w, t]: Vec3): Vec3[] {
  return [0, l].flatMap((x) => [0, w].flatMap((y) => [0, t].map((z) => out(p, [x, y, z]))));
}

/** lowerBack is the corner of the first piece's blank that lengths on the whole toy go from. */
function lowerBack(toy: Toy, scene: Scene): Point {
  const first = scene.pieces[0], part = toy.parts.find((p) => p.name === first?.part);
  if (!part) return [0, 0];
  const [x, z] = spanned(first, part.size as Vec3);
  return [x[0], z[0]];
}

/** partOf makes a part of an outline: its blank is the outline's box, it stands on edge in the middle
 * of the toy, and sits where it was drawn, from the first piece; what was drawn on top of a piece is
 * glued to it. */
async function partOf(toy: Toy, scene: Scene, points: Point[], stock: string, rule: Rule, hand: Hand): Promise<string | null> {
  const xs = points.map((p) => p[0]), zs = points.map((p) => p[1]);
  const x = Math.min(...xs), z = Math.min(...zs), w = (mm: number) => filed(mm, hand);
  const name = freeName("part", toy.parts.map((p) => p.name));
  const outline = points.map((p) => `[${w(p[0] - x)}, ${w(p[1] - z)}]`).join(", ");
  const first = scene.pieces[0], anchor = first ? first.id.split("/")[0] : "";
  const edits: Edit[] = [{
    op: "insert", path: "parts." + name, as: "yaml",
    value: `{from: ${stock}, blank: [${w(Math.max(...xs) - x)}, ${w(Math.max(...zs) - z)}], lies: {length: forward, right: face}, work: [{saw: {side: face, outline: [${outline}]}}]}`,
  }];
  const [bx, bz] = lowerBack(toy, scene);
  if (first && !first.id.includes("/")) {
    const on = scene.pieces.find((p) => isUnder(toy, p, [x, Math.max(...xs)], z, rule.mm / 2));
    const bottom = on ? on.id + ".top" : `${anchor}.bottom${off(z - bz, w)}`;
    edits.push({ op: "insert", path: "build[+]", as: "yaml", value: `{put: ${name}, sits: {back: ${anchor}.back${off(x - bx, w)}, bottom: ${bottom}, middle: ${anchor}.middle}${on ? ", glued: yes" : ""}}` });
  } else {
    edits.push({ op: "insert", path: "build[+]", as: "yaml", value: `{put: ${name}}` });
  }
  return (await change(edits, "new part " + name)) ? "parts." + name : null;
}

/** isUnder tells whether a piece that has a flat top, alone in the toy, holds what begins at z. */
function isUnder(toy: Toy, p: Piece, [from, to]: Point, z: number, reach: number): boolean {
  const part = toy.parts.find((q) => q.name === p.part);
  if (part?.shape !== "block" || p.id.includes("/")) return false;
  const [x, top] = spanned(p, part.size as Vec3);
  return Math.abs(top[1] - z) <= reach && x[0] < to && from < x[1];
}

function off(mm: number, w: (mm: number) => string): string {
  if (Math.abs(mm) < 0.01) return "";
  return mm > 0 ? " + " + w(mm) : " - " + w(-mm);
}

/** wheelAt drills an axle hole through the part under a place and puts wheels on it. */
async function wheelAt(toy: Toy, scene: Scene, [x, z]: Point, rule: Rule, hand: Hand): Promise<void> {
  const hit = scene.pieces.find((p) => {
    const part = toy.parts.find((q) => q.name === p.part);
    if (!part || part.shape !== "block" || part.mirrors || p.id.includes("/")) return false;
    const c = corners(p, part.size as Vec3);
    return x >= Math.min(...c.map((v) => v[0])) && x <= Math.max(...c.map((v) => v[0])) && z >= Math.min(...c.map((v) => v[2])) && z <= Math.max(...c.map((v) => v[2]));
  });
  const part = hit && toy.parts.find((q) => q.name === hit.part);
  if (!hit || !part) {
    say("There is no part there to drill: draw its outline first.");
    return;
  }
  const c = corners(hit, part.size as Vec3);
  const dx = snapped(x - Math.min(...c.map((v) => v[0])), rule.mm), dz = snapped(z - Math.min(...c.map((v) => v[2])), rule.mm);
  const side = facingRight(hit);
  const name = freeName("axle", part.work.flatMap((k) => k.holes.map((q) => q.name)));
  const dowel = toy.sizes.some((s) => s.name === "dowel") ? "dowel" : toy.units === "inch" ? "1/4" : "6";
  const running = toy.sizes.some((s) => s.name === "running") ? "running" : toy.units === "inch" ? "1/16" : "1";
  const item = `{drill: {side: ${side}, dia: ${dowel} + ${running}, named: {${name}: [${filed(dx, hand)}, ${filed(dz, hand)}]}}}`;
  const work: Edit = part.work.length > 0 ? { op: "insert", path: part.path + ".work[+]", value: item, as: "yaml" } : { op: "insert", path: part.path + ".work", value: `[${item}]`, as: "yaml" };
  await change([work, ...wheelEdits({ units: toy.units }, `${hit.id}.${name}`)], "wheels");
}

/** facingRight is the shop's word for the side of a piece's blank that faces right in the world. */
function facingRight(p: Piece): string {
  const q = p.pose;
  for (const [k, plus, minus] of [[0, "end", "other-end"], [1, "other-edge", "edge"], [2, "face", "other-face"]] as const) {
    const y = q[3 * k + 1];
    if (y > 0.9) return minus;
    if (y < -0.9) return plus;
  }
  return "edge";
}
