// Edits of the build: how pieces sit, in which order, what is added.

import { filed, inch } from "../draw/lengths";
import type { Build, BuildLies, BuildSit, BuildStep, Edit, Field, Seat, Toy, WordList } from "../protocol";
import type { Hand } from "../units";
import { flip, meeting, middles, offOf, place, sides } from "./words";

/** resit writes a line of sits anew: another feature of the piece itself moves to another key. */
export function resit(step: BuildStep, sit: BuildSit, own: string, text: string): Edit[] {
  if (own === sit.own) return text === sit.text ? [] : [{ op: "set", path: sit.path, value: text, as: "text" }];
  return [
    { op: "insert", path: `${step.path}.sits.${own}`, value: text, as: "text", to: sit.path },
    { op: "remove", path: sit.path },
  ];
}

/** reown gives a line another feature of the piece itself, against what goes with it. */
export function reown(step: BuildStep, sit: BuildSit, own: string, target: Seat | undefined): Edit[] {
  return resit(step, sit, own, place(sit.piece, meeting(own, sit, target)));
}

/** retarget brings a line to another feature of another piece, and as far from it as before. */
export function retarget(step: BuildStep, sit: BuildSit, target: Seat | undefined, feature: string): Edit[] {
  if (!target) return [];
  const has = feature in sides || feature === "middle" || target.features.some((f) => f.name === feature);
  const off = offOf(sit.off);
  return resit(step, sit, sit.own, place(target.id, has ? feature : meeting(sit.own, sit, target), off?.sign, off?.amount));
}

/** some is how far off something goes that was at it, to begin with. */
export function some(h: Hand): string {
  return filed(h.hand === "inch" ? inch / 8 : 3, h);
}

/** freeAxes are the directions that a put does not settle; null where that is not known. */
export function freeAxes(step: BuildStep): number[] | null {
  if (step.sits.some((s) => s.axes.length === 0)) return null;
  const said = new Set(step.sits.flatMap((s) => s.axes));
  return [0, 1, 2].filter((a) => !said.has(a));
}

/** addSit adds a line for a direction that is free yet, beside what the piece sits on already. */
export function addSit(step: BuildStep, before: Seat[]): Edit[] {
  const target = step.sits[0]?.piece ?? before[0]?.id;
  if (!target) return [];
  const said = new Set(step.sits.map((s) => s.own));
  const first = [["front", "back", middles[0]], [middles[1], "left", "right"], ["bottom", "top", middles[2]]];
  const axis = freeAxes(step)?.[0];
  const own = (axis === undefined ? first.flat() : first[axis]).find((w) => !said.has(w));
  if (!own) return [];
  const feature = own === "bottom" ? "top" : own === "top" ? "bottom" : own in sides ? own : "middle";
  const value = place(target, feature);
  if (step.sits.length === 0) return [{ op: "insert", path: step.path + ".sits", value: `{${own}: ${value}}`, as: "yaml" }];
  return [{ op: "insert", path: `${step.path}.sits.${own}`, value, as: "text" }];
}

/** typedOver sets a value that may not be in the file yet, or takes it away where text is empty. */
export function typedOver(path: string, was: string, text: string): Edit[] {
  if (text === was) return [];
  if (!text) return [{ op: "remove", path }];
  return [{ op: was ? "set" : "insert", path, value: text, as: "text" }];
}

export function setYes(path: string, said: boolean, yes: boolean): Edit[] {
  if (!yes) return said ? [{ op: "remove", path }] : [];
  return [{ op: said ? "set" : "insert", path, value: "yes", as: "yaml" }];
}

/** gluing says how a piece is glued: not, to what it sits against, or to pieces by name. */
export function gluing(step: BuildStep, to: "no" | "sits" | string[]): Edit[] {
  const edits: Edit[] = [];
  const glued = step.yes.find((f) => f.name === "glued")!;
  const path = step.path + ".glue-to";
  if (to === "no" || to === "sits") {
    if (step.glueTo.length > 0) edits.push({ op: "remove", path });
    return [...edits, ...setYes(glued.path, glued.said, to === "sits")];
  }
  if (to.length === 0) return gluing(step, "no");
  edits.push({ op: step.glueTo.length > 0 ? "set" : "insert", path, value: `[${to.join(", ")}]`, as: "yaml" });
  return [...edits, ...setYes(glued.path, glued.said, false)];
}

/** setWords writes a list of holes or wheels: one hole stands without brackets. */
export function setWords(w: WordList, items: string[]): Edit[] {
  if (items.length === 0) return [];
  if (items.length === 1 && w.of === "holes") return [{ op: "set", path: w.path, value: items[0], as: "text" }];
  return [{ op: "set", path: w.path, value: `[${items.join(", ")}]`, as: "yaml" }];
}

/** gapFor gives twin wheels a gap, and takes it from single ones. */
export function gapFor(wheels: number, gap: Field, units: string): Edit[] {
  if (wheels > 1 && !gap.text) return [{ op: "insert", path: gap.path, value: units === "inch" ? "1/16" : "1.5", as: "text" }];
  return wheels === 1 && gap.text ? [{ op: "remove", path: gap.path }] : [];
}

const along: Record<string, number> = { forward: 0, back: 0, left: 1, right: 1, up: 2, down: 2 };

/** waysFor are the directions square to one. */
export function waysFor(length: string): string[] {
  return ["up", "down", "left", "right", "forward", "back"].filter((w) => along[w] !== along[length]);
}

/** lay says how a blank is laid; a lean that is in the file stays. */
export function lay(l: BuildLies, length: string, way: string, side: string): Edit[] {
  if (along[way] === along[length]) way = waysFor(length)[0];
  if (!l.said) return [{ op: "insert", path: l.path, value: `{length: ${length}, ${way}: ${side}}`, as: "yaml" }];
  const edits: Edit[] = [];
  if (length !== l.length) edits.push({ op: "set", path: l.path + ".length", value: length });
  if (way !== l.way) edits.push({ op: "insert", path: `${l.path}.${way}`, value: side, to: `${l.path}.${l.way}` }, { op: "remove", path: `${l.path}.${l.way}` });
  else if (side !== l.side) edits.push({ op: "set", path: `${l.path}.${way}`, value: side });
  return edits;
}

/** hangsOn are the pieces that a step needs to be there before it. */
export function hangsOn(step: BuildStep): string[] {
  return [...step.sits.map((s) => s.piece), ...step.words.flatMap((w) => (w.of === "holes" ? w.items.map(pieceOf) : [])), ...step.glueTo];
}

/** pieceOf is the piece of a hole: the last point stands before the name of the hole. */
export function pieceOf(ref: string): string {
  return ref.slice(0, ref.lastIndexOf("."));
}

function adds(step: BuildStep, piece: string): boolean {
  return step.ids.some((id) => piece === id || piece.startsWith(id + "/"));
}

/** why says why step k cannot go to another place, or be taken away (to is -1); empty: it can. */
export function why(b: Build, k: number, to: number): string {
  const s = b.steps[k];
  if (b.steps.length === 1 && to < 0) return "something has to be put first";
  const between = to < 0 ? b.steps.slice(k + 1) : to < k ? b.steps.slice(to, k) : b.steps.slice(k + 1, to + 1);
  if (to < 0 || to > k) {
    const on = between.find((x) => hangsOn(x).some((p) => adds(s, p)));
    if (on) return `${on.ids[0]} hangs on ${s.ids[0]}${to < 0 ? ": place it elsewhere or take it away first" : ", and cannot come before it"}`;
  } else {
    const under = between.find((x) => hangsOn(s).some((p) => adds(x, p)));
    if (under) return `${s.ids[0]} hangs on ${under.ids[0]}, and cannot come before it`;
  }
  if ((k === 0 && to !== 0) || (to === 0 && k > 0)) return "the first piece sits on nothing: all others hang on it";
  return "";
}

/** makeFirst makes the piece of a step the one that all others hang on: what it sits on sits on it then,
 * in the same place. Where that cannot be it says why. */
export function makeFirst(b: Build, k: number): Edit[] | string {
  const s = b.steps[k], first = b.steps[0], id = s.ids[0];
  if (s.kind !== "put" || first.kind !== "put") return "only a part or a glue-up can be the first piece";
  if (s.sits.length === 0) return `say first where ${id} sits`;
  const lines = new Map<string, string>();
  for (const t of s.sits) {
    const off = offOf(t.off);
    if (t.piece !== first.ids[0]) return `${id} sits on ${t.piece}: only what sits on ${first.ids[0]} alone can take its place`;
    const half = middles.includes(t.own);
    if (lines.has(half ? t.own : t.feature) || (half && t.feature !== "middle") || (t.off && !off)) return `the line "${t.own}: ${t.text}" cannot be turned round: write it in the file`;
    if (half) lines.set(t.own, place(id, "middle", flip(off?.sign ?? 1), off?.amount));
    else lines.set(t.feature, place(id, t.own, flip(off?.sign ?? 1), off?.amount));
  }
  const glued = s.yes.find((f) => f.name === "glued");
  if (s.glueTo.some((p) => p !== first.ids[0])) return `${id} is glued to ${s.glueTo.join(" and ")}: let go of that first`;
  const sits = `{${[...lines].map(([own, text]) => `${own}: ${text}`).join(", ")}}`;
  const edits: Edit[] = [{ op: "insert", path: first.path + ".sits", value: sits, as: "yaml" }];
  if (glued?.yes) edits.push({ op: "insert", path: first.path + ".glued", value: "yes", as: "yaml" }, { op: "remove", path: glued.path });
  else if (s.glueTo.length > 0) edits.push({ op: "insert", path: first.path + ".glue-to", value: `[${id}]`, as: "yaml" }, { op: "remove", path: s.path + ".glue-to" });
  edits.push({ op: "remove", path: s.path + ".sits" }, { op: "move", path: s.path, to: "[0]" });
  return edits;
}

/** put adds a part or glue-up, on top of the first piece until it is said otherwise. */
export function put(b: Build, part: string): Edit[] {
  const on = b.seats[0]?.id;
  const sits = on ? `, sits: {bottom: ${on}.top, back: ${on}.back, middle: ${on}.middle}${b.glueUp ? "" : ", glued: yes"}` : "";
  return [{ op: "insert", path: b.path + "[+]", value: `{put: ${part}${sits}}`, as: "yaml" }];
}

/** dowelFor is a part of dowel of that name, with the edits that make it where there is none. */
export function dowelFor(toy: Toy, name: string): { part: string; edits: Edit[] } {
  if (toy.parts.some((p) => p.name === name && p.shape === "rod")) return { part: name, edits: [] };
  const edits: Edit[] = [];
  let rod = toy.stock.find((s) => s.form === "dowel")?.name;
  if (!rod) {
    rod = "rod";
    edits.push({ op: "insert", path: "stock.rod", value: `{wood: birch, form: dowel, dia: ${toy.units === "inch" ? "1/4" : "6"}}`, as: "yaml" });
  }
  edits.push({ op: "insert", path: "parts." + name, value: `{from: ${rod}}`, as: "yaml" });
  return { part: name, edits };
}

/** holesOf are the holes with a name in what is put before step k, as the file speaks of them;
 * those that nothing is in yet come first. */
export function holesOf(b: Build, k = b.steps.length): string[] {
  const used = new Set(b.steps.flatMap((s) => s.words.flatMap((w) => (w.of === "holes" ? w.items : []))));
  const all = b.seats.filter((s) => s.step < k && b.steps[s.step]?.kind === "put").flatMap((s) => s.features.filter((f) => f.kind === "hole").map((f) => `${s.id}.${f.name}`));
  return [...all.filter((h) => !used.has(h)), ...all.filter((h) => used.has(h))];
}
