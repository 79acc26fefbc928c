// A value of the file to be typed over: a fraction, millimetres, or a formula over sizes.

import { useEffect, useId, useState } from "preact/hooks";

interface Props {
  name: string;
  text: string;
  says?: string;
  set: (text: string) => Promise<boolean>;
  width?: string;
}

export function FieldInput({ name, text, says, set, width }: Props) {
  const [typed, setTyped] = useState<string | null>(null);
  const id = useId();
  useEffect(() => setTyped(null), [text]);
  const done = async (e: Event) => {
    const t = (e.target as HTMLInputElement).value.trim(); // what is there now: Enter may come before it is drawn again
    if (t === text || (await set(t))) setTyped(null);
  };
  return (
    <label class="field" for={id}>
      <span>{name}</span>
      <input id={id} value={typed ?? text} spellcheck={false} autocomplete="off" style={width ? { width } : undefined}
        onInput={(e) => setTyped((e.target as HTMLInputElement).value)}
        onBlur={(e) => void done(e)}
        onKeyDown={(e) => {
          if (e.key === "Enter") void done(e);
          if (e.key === "Escape") setTyped(null);
        }} />
      {says && <span class="quiet">{says}</span>}
    </label>
  );
}
