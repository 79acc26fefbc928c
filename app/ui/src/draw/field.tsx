// A value of the file to be typed over: a fraction, millimetres, or a formula over sizes.

import { useEffect, useId, useState } from "preact/hooks";
import { trouble } from "../store";
import { saidText, symbols, useHand, worded } from "../units";
import { shown } from "./lengths";

interface Props {
  name: string;
  text: string;
  said?: string; // with its units
  mm?: number | null; // what it comes to
  plain?: boolean; // no length
  says?: string;
  set: (text: string) => Promise<boolean>;
  width?: string;
}

export function FieldInput({ name, text, said, mm, plain, says, set, width }: Props) {
  const h = useHand();
  const own = saidText({ text, said: said ?? text }, h); // as it is shown
  const worth = !plain && h.own !== h.hand && mm != null ? `= ${shown(mm, h.hand)} ${symbols[h.hand]}` : says;
  const [typed, setTyped] = useState<string | null>(null);
  const id = useId();
  useEffect(() => setTyped(null), [own]);
  const done = async (e: Event) => {
    const t = (e.target as HTMLInputElement).value.trim(); // what is there now: Enter may come before it is drawn again
    if (t === own) return setTyped(null);
    try {
      const [text] = plain ? [t] : await worded([t], h);
      if (await set(text)) setTyped(null);
    } catch (e) {
      trouble(e);
    }
  };
  return (
    <label class="field" for={id}>
      <span>{name}</span>
      <input id={id} value={typed ?? own} spellcheck={false} autocomplete="off" style={width || worth ? { width: width ?? "7rem" } : undefined}
        onInput={(e) => setTyped((e.target as HTMLInputElement).value)}
        onBlur={(e) => void done(e)}
        onKeyDown={(e) => {
          if (e.key === "Enter") void done(e);
          if (e.key === "Escape") setTyped(null);
        }} />
      {worth && <span class="quiet">{worth}</span>}
    </label>
  );
}
