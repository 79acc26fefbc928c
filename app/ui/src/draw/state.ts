// What is chosen on the drawing page.

import { useState } from "preact/hooks";
import type { Part, Work } from "../protocol";
import { keep, kept } from "../kept";
import { symbols, type Hand } from "../units";
import { rules, shown, usualRule, type Rule } from "./lengths";
import type { Side } from "./views";

/** Chosen is a work of the part, and of it a corner or a hole by its path. */
export interface Chosen {
  work: number; // -1: none
  spot: string; // path of a corner or hole; empty: none
}

export const nothing: Chosen = { work: -1, spot: "" };

export type ToolId = "" | "drill" | "cut-out" | "notch" | "groove" | "saw";

/** Drawing is what the parts of the page share. */
export interface Drawing {
  part: Part;
  hand: Hand;
  rule: Rule;
  chosen: Chosen;
  choose: (c: Chosen) => void;
  tool: ToolId;
  setTool: (t: ToolId) => void;
  sides: [Side, Side, Side];
  setSides: (s: [Side, Side, Side]) => void;
}

/** useRule is the rule that lengths snap to, remembered for each unit. */
export function useRule(units: string): [Rule, (id: string) => void] {
  const [chosen, set] = useState<Record<string, string>>({});
  const id = chosen[units] ?? kept("rule-" + units, usualRule[units]);
  const choose = (id: string) => {
    set({ ...chosen, [units]: id });
    keep("rule-" + units, id);
  };
  return [rules[units].find((r) => r.id === id) ?? rules[units][1], choose];
}

/** listOf is the path at which more work is put on a part, and whether there is any yet. */
export function workPath(part: Part): { path: string; first: boolean } {
  return part.work.length > 0 ? { path: part.path + ".work[+]", first: false } : { path: part.path + ".work", first: true };
}

/** label tells of a work in a few words. */
export function label(w: Work, k: number, h: Hand): string {
  return `${k + 1}. ${workSays(w, h)}${w.holes.length > 1 ? ", " + w.holes.length + " holes" : ""}`;
}

/** workSays is what the program says of a work, its lengths with their units where the user has
 * others than the file. */
function workSays(w: Work, h: Hand): string {
  const said = (name: string) => {
    const f = w.fields.find((x) => x.name === name);
    return f && h.own !== h.hand ? ([f.text, f.mm === null ? f.said : `${shown(f.mm, h.hand)} ${symbols[h.hand]}`] as const) : null;
  };
  let says = w.says;
  const dia = w.kind === "drill" && said("dia"), by = said("by"), depth = said("depth");
  if (dia) says = says.replace("drill " + dia[0], "drill " + dia[1]);
  if (by) says = says.replace("by " + by[0], "by " + by[1]);
  if (depth) says = says.replace(depth[0] + " deep", depth[1] + " deep");
  return says;
}
