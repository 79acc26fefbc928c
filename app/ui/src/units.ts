// What lengths are shown and typed in: as the toy is written, unless the user says otherwise. The
// file itself is never converted; what is typed is worded so that the file means it.

import { call } from "./call";
import type { Field } from "./protocol";
import { now, useModel } from "./store";

/** Hand is the unit that a toy is written in, and the one that its user measures in: inch or mm. */
export interface Hand {
  own: string;
  hand: string;
}

export function useHand(): Hand {
  const own = useModel((m) => m.open?.toy?.units ?? "mm");
  const choice = useModel((m) => m.units);
  return { own, hand: choice || own };
}

export const symbols: Record<string, string> = { inch: "in", mm: "mm" };

/** saidText is a text of the file as it is shown: with its units, where its user has others. */
export function saidText(f: Pick<Field, "text" | "said">, { own, hand }: Hand): string {
  return own === hand ? f.text : f.said;
}

/** worded is lengths as they were typed, as the file has to have them. */
export async function worded(texts: string[], { own, hand }: Hand): Promise<string[]> {
  const file = now().open?.file;
  if (own === hand || !file) return texts;
  return (await call("word", { file, units: hand, texts })).texts;
}
