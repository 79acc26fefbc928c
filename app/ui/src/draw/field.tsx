// A value of the file to be typed over: a fraction, millimetres, or a formula over sizes.

import { useId } from "preact/hooks";
import { useTyped } from "../typed";
import { saidText, symbols, useHand, worded } from "../units";
import { shown } from "./lengths";

interface Props {
  name: string;
  label?: string; // where the name is not shown
  text: string;
  said?: string; // with its units
  mm?: number | null; // what it comes to
  plain?: boolean; // no length
  says?: string;
  set: (text: string) => Promise<boolean>;
  width?: string;
}

export function FieldInput({ name, label, text, said, mm, plain, says, set, width }: Props) {
  const h = useHand();
  const worth = !plain && h.own !== h.hand && mm != null ? `= ${shown(mm, h.hand)} ${symbols[h.hand]}` : says;
  const id = useId();
  const t = useTyped(saidText({ text, said: said ?? text }, h), async (typed) => set(plain ? typed : (await worded([typed], h))[0]));
  return (
    <label class="field" for={id}>
      {name && <span>{name}</span>}
      <input id={id} value={t.value} spellcheck={false} autocomplete="off" aria-label={label} aria-invalid={t.wrong !== ""} aria-describedby={id + "-wrong"} style={width || worth ? { width: width ?? "7rem" } : undefined} {...t.on} />
      {worth && <span class="quiet">{worth}</span>}
      <Wrong id={id + "-wrong"} says={t.wrong} />
    </label>
  );
}

/** Wrong says below a field why what is typed in it was not taken. */
export function Wrong({ id, says }: { id: string; says: string }) {
  return <small id={id} class="wrong bad" role="alert">{says}</small>;
}
