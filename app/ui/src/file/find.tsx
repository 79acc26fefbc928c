// Finding words in the text: Enter goes on, Shift and Enter goes back.

import type { RefObject } from "preact";
import { useState } from "preact/hooks";
import type { Editor } from "./editor";

export function Find({ editor, field }: { editor: () => Editor | null; field: RefObject<HTMLInputElement | null> }) {
  const [word, setWord] = useState("");
  const [says, setSays] = useState("");
  const go = (back: boolean) => {
    const e = editor();
    if (!e || !word) return setSays("");
    const found = places(e.text(), word);
    if (found.length === 0) return setSays("not found");
    const at = e.cursor();
    const next = back ? found.filter((f) => f + word.length < at).length - 1 : found.findIndex((f) => f >= at);
    const i = next >= 0 ? next : back ? found.length - 1 : 0;
    e.show(found[i], found[i] + word.length);
    setSays(`${i + 1} of ${found.length}`);
  };
  return (
    <div class="row" role="search">
      <label>Find <input
        ref={field} value={word} spellcheck={false} autocomplete="off"
        onInput={(e) => { setWord((e.target as HTMLInputElement).value); setSays(""); }}
        onKeyDown={(e) => {
          if (e.key === "Enter") { e.preventDefault(); go(e.shiftKey); }
          if (e.key === "Escape") editor()?.focus();
        }}
      /></label>
      <button class="small" onClick={() => go(true)}>Back</button>
      <button class="small" onClick={() => go(false)}>Next</button>
      <span role="status" class="quiet">{says}</span>
    </div>
  );
}

/** places is where a word stands in a text, small letters and capitals alike. */
export function places(text: string, word: string): number[] {
  const out: number[] = [];
  const t = text.toLowerCase(), w = word.toLowerCase();
  // What changes its length with its letters' case is looked for as it is.
  const [where, what] = t.length === text.length && w.length === word.length ? [t, w] : [text, word];
  for (let i = where.indexOf(what); i >= 0; i = where.indexOf(what, i + what.length)) out.push(i);
  return out;
}
