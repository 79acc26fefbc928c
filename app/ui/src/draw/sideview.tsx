// The whole toy from its right side, full of what one sketches first: outlines on a floor line,
// circles for wheels. Pieces are dragged along the toy or up and down where the file says where they
// sit; outlines and wheels drawn here become parts with their place.

import { useRef, useState } from "preact/hooks";
import type { Edit, Piece, Scene, Toy } from "../protocol";
import { change, say, useModel } from "../store";
import { freeName } from "./edits";
import { snapped, written, type Rule } from "./lengths";
import { edgesOf, out } from "./lines";
import type { Vec3 } from "./views";
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
  const [tool, setTool] = useState<"" | "outline" | "wheel">("");
  const [points, setPoints] = useState<Point[]>([]);
  const [hover, setHover] = useState<Point | null>(null);
  const flat = toy.stock.filter((s) => s.form === "board" || s.form === "sheet");
  const [stock, setStock] = useState(flat[0]?.name ?? "");
  if (!scene) return <p class="wait">Laying the toy out …</p>;
  const margin = 0.15 * Math.max(scene.high[0] - scene.low[0], 60);
  const x0 = scene.low[0] - margin, w = scene.high[0] - scene.low[0] + 2 * margin;
  const top = scene.high[2] + 1.5 * margin, h = top - scene.floor + margin;
  const u = w / 100;
  const at = (e: PointerEvent): Point => {
    const p = new DOMPoint(e.clientX, e.clientY).matrixTransform(svg.current!.getScreenCTM()!.inverse());
    return [snapped(p.x, rule.mm), snapped(-p.y, rule.mm)];
  };
  const down = async (e: PointerEvent) => {
    if (!tool) return;
    const p = at(e);
    if (tool === "wheel") {
      setTool("");
      await wheelAt(toy, scene, p);
      return;
    }
    const first = points[0];
    if (first && points.length > 2 && Math.hypot(first[0] - p[0], first[1] - p[1]) < 1.5 * u) return finish();
    setPoints([...points, p]);
  };
  const finish = async () => {
    if (points.length > 2) {
      const path = await partOf(toy, scene, points, stock);
      if (path) open(path);
    }
    setPoints([]);
    setTool("");
  };
  const take = (t: "outline" | "wheel") => {
    setPoints([]);
    setTool(tool === t ? "" : t);
    svg.current?.focus(); // so that Enter and Escape are the tool's
  };
  const keys = (e: KeyboardEvent) => {
    if (e.key === "Escape") {
      setPoints([]);
      setTool("");
    } else if (e.key === "Enter" && tool === "outline") {
      void finish();
    }
  };
  return (
    <>
      <div class="tools" role="toolbar" aria-label="Tools">
        <button aria-pressed={tool === "outline"} onClick={() => take("outline")}>Outline of a new part</button>
        <label>from <select value={stock} onChange={(e) => setStock((e.target as HTMLSelectElement).value)}>{flat.map((s) => <option key={s.name} value={s.name}>{s.name}, {written(s.size, toy.units)} thick</option>)}</select></label>
        <button aria-pressed={tool === "wheel"} onClick={() => take("wheel")}>Wheels</button>
        <span role="status" class="quiet">{tool === "outline" ? "Click its corners one after the other; the first again, or Enter, closes it." : tool === "wheel" ? "Click where their axle goes through a part." : ""}</span>
      </div>
      <svg ref={svg} class={"sheet" + (tool ? " with-tool" : "")} viewBox={`${x0} ${-top} ${w} ${h}`} tabIndex={0} role="group" aria-label="The whole toy from its right side"
        style={{ "--u": u }} onPointerDown={down} onPointerMove={(e) => tool && setHover(at(e))} onKeyDown={keys}>
        {[...scene.pieces].sort((a, b) => b.pose[10] - a.pose[10]).map((p) => <Outline key={p.id} p={p} toy={toy} scene={scene} open={open} busy={tool !== ""} />)}
        <line class="floor" x1={x0} x2={x0 + w} y1={-scene.floor} y2={-scene.floor} />
        <text class="view-name" x={x0 + u} y={-scene.floor + 3 * u} font-size={2 * u}>floor</text>
        {points.length > 0 && <polyline class="new" points={[...points, hover ?? points[0]].map(([x, z]) => `${x},${-z}`).join(" ")} />}
        {tool === "wheel" && hover && <circle class="new" cx={hover[0]} cy={-hover[1]} r={wheelRadius(toy)} />}
      </svg>
    </>
  );
}

function wheelRadius(toy: Toy): number {
  return (toy.parts.find((p) => p.shape === "disc")?.size[0] ?? 32) / 2;
}

/** Outline is a piece as seen from the right: its edges, over a face that can be clicked. */
function Outline({ p, toy, scene, open, busy }: { p: Piece; toy: Toy; scene: Scene; open: (path: string) => void; busy: boolean }) {
  const part = toy.parts.find((x) => x.name === p.part);
  const look = useModel((m) => m.look?.parts ?? null);
  if (!part) return null;
  const lines = edgesOf({ ...part, name: p.part }, { ...scene, pieces: [p] }).map(([a, b]) => [out(p, a), out(p, b)] as const);
  const d = lines.map(([a, b]) => `M${a[0].toFixed(2)} ${(-a[2]).toFixed(2)}L${b[0].toFixed(2)} ${(-b[2]).toFixed(2)}`).join("");
  const c = corners(p, part.size as Vec3);
  const xs = c.map((v) => v[0]), zs = c.map((v) => -v[2]);
  return (
    <g class={"piece" + (look?.includes(p.part) ? " on" : "")} role="button" tabIndex={0} aria-label={"open the drawing of " + p.part}
      onDblClick={() => !busy && open(part.path)} onKeyDown={(e) => e.key === "Enter" && open(part.path)}>
      <rect class="touch" x={Math.min(...xs)} y={Math.min(...zs)} width={Math.max(...xs) - Math.min(...xs)} height={Math.max(...zs) - Math.min(...zs)} />
      <path class="pencil ink" d={d} />
    </g>
  );
}

function corners(p: Piece, [l, w, t]: Vec3): Vec3[] {
  return [0, l].flatMap((x) => [0, w].flatMap((y) => [0, t].map((z) => out(p, [x, y, z]))));
}

/** partOf makes a part of an outline: its blank is the outline's box, it stands on edge in the middle
 * of the toy, and sits where it was drawn, from the first piece. */
async function partOf(toy: Toy, scene: Scene, points: Point[], stock: string): Promise<string | null> {
  const xs = points.map((p) => p[0]), zs = points.map((p) => p[1]);
  const x = Math.min(...xs), z = Math.min(...zs), w = (mm: number) => written(mm, toy.units);
  const name = freeName("part", toy.parts.map((p) => p.name));
  const outline = points.map((p) => `[${w(p[0] - x)}, ${w(p[1] - z)}]`).join(", ");
  const first = scene.pieces[0], anchor = first ? first.id.split("/")[0] : "";
  const edits: Edit[] = [{
    op: "insert", path: "parts." + name, as: "yaml",
    value: `{from: ${stock}, blank: [${w(Math.max(...xs) - x)}, ${w(Math.max(...zs) - z)}], lies: {length: forward, right: face}, work: [{saw: {side: face, outline: [${outline}]}}]}`,
  }];
  const part = first && toy.parts.find((p) => p.name === first.part);
  if (part && !first.id.includes("/")) {
    const c = corners(first, part.size as Vec3);
    const bx = Math.min(...c.map((v) => v[0])), bz = Math.min(...c.map((v) => v[2]));
    edits.push({ op: "insert", path: "build[+]", as: "yaml", value: `{put: ${name}, sits: {back: ${anchor}.back${off(x - bx, w)}, bottom: ${anchor}.bottom${off(z - bz, w)}, middle: ${anchor}.middle}}` });
  } else {
    edits.push({ op: "insert", path: "build[+]", as: "yaml", value: `{put: ${name}}` });
  }
  return (await change(edits, "new part " + name)) ? "parts." + name : null;
}

function off(mm: number, w: (mm: number) => string): string {
  if (Math.abs(mm) < 0.01) return "";
  return mm > 0 ? " + " + w(mm) : " - " + w(-mm);
}

/** wheelAt drills an axle hole through the part under a place and puts wheels on it. */
async function wheelAt(toy: Toy, scene: Scene, [x, z]: Point): Promise<void> {
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
  const dx = x - Math.min(...c.map((v) => v[0])), dz = z - Math.min(...c.map((v) => v[2]));
  const side = facingRight(hit);
  const name = freeName("axle", part.work.flatMap((k) => k.holes.map((q) => q.name)));
  const dowel = toy.sizes.some((s) => s.name === "dowel") ? "dowel" : toy.units === "inch" ? "1/4" : "6";
  const running = toy.sizes.some((s) => s.name === "running") ? "running" : toy.units === "inch" ? "1/16" : "1";
  const item = `{drill: {side: ${side}, dia: ${dowel} + ${running}, named: {${name}: [${written(dx, toy.units)}, ${written(dz, toy.units)}]}}}`;
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
