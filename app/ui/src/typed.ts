// A value that is typed over in a field: it stays as it is typed until it is taken, and what speaks
// against it is said beside it. Nothing is sent twice, and nothing is put over what others changed
// while it was typed without its being said.

import { useRef, useState } from "preact/hooks";
import { takeTrouble } from "./store";

export interface Typing {
  value: string;
  wrong: string; // why it was not taken; "": nothing speaks against it
  on: { onInput: (e: Event) => void; onBlur: (e: Event) => void; onKeyDown: (e: KeyboardEvent) => void };
}

/** useTyped is a field that shows own until it is typed in; set takes what was typed, and tells
 * whether it could, or throws why not. */
export function useTyped(own: string, set: (text: string) => Promise<boolean>): Typing {
  const [typed, setTyped] = useState<string | null>(null);
  const [wrong, setWrong] = useState("");
  const was = useRef<string | null>(null); // own when typing began
  const sent = useRef<string | null>(null); // on its way
  const drop = () => {
    was.current = null;
    setTyped(null);
    setWrong("");
  };
  const enter = async (e: Event) => {
    const text = (e.target as HTMLInputElement).value.trim(); // what is there now: Enter may come before it is drawn again
    if (was.current === null || text === sent.current) return;
    if (text === own) return drop();
    if (own !== was.current) {
      was.current = own;
      return setWrong(`this has become ${own || "empty"} meanwhile; Enter puts yours in its place, Escape leaves it`);
    }
    sent.current = text;
    try {
      if (await set(text)) drop();
      else setWrong(takeTrouble());
    } catch (e) {
      setWrong(e instanceof Error ? e.message : String(e));
    } finally {
      sent.current = null;
    }
  };
  return {
    value: typed ?? own,
    wrong,
    on: {
      onInput: (e) => {
        was.current ??= own;
        setTyped((e.target as HTMLInputElement).value);
        setWrong("");
      },
      onBlur: (e) => void (wrong ? undefined : enter(e)),
      onKeyDown: (e) => {
        if (e.key === "Enter") void enter(e);
        if (e.key === "Escape") drop();
      },
    },
  };
}
