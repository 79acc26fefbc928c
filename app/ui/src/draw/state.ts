// What is chosen on the drawing page.

import { useEffect, useState } from "preact/hooks";
import type { Part, Work } from "../protocol";
import { rules, usualRule, type Rule } from "./lengths";
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
  units: string;
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
  const key = "dryfit-rule-" + units;
  const [id, set] = useState(() => stored(key) ?? usualRule[units]);
  useEffect(() => {
    try {
      localStorage.setItem(key, id);
    } catch {
      // it is chosen again next time
    }
  }, [id]);
  return [rules[units].find((r) => r.id === id) ?? rules[units][1], set];
}

function stored(key: string): string | null {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}

/** listOf is the path at which more work is put on a part, and whether there is any yet. */
export function workPath(part: Part): { path: string; first: boolean } {
  return part.work.length > 0 ? { path: part.path + ".work[+]", first: false } : { path: part.path + ".work", first: true };
}

/** label tells of a work in a few words. */
export function label(w: Work, k: number): string {
  return `${k + 1}. ${w.says}${w.holes.length > 1 ? ", " + w.holes.length + " holes" : ""}`;
}
