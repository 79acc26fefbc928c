// The named sizes as a small table: type another value, and all that hangs on it follows.

import { useState } from "preact/hooks";
import type { Size } from "./protocol";
import { change, dispatch, useModel } from "./store";

export function Sizes() {
  const toy = useModel((m) => m.open?.toy ?? null);
  if (!toy) return null;
  return (
    <section class="sizes" aria-labelledby="sizes-head">
      <h2 id="sizes-head">Sizes</h2>
      {toy.sizes.length === 0 && <p class="quiet">This toy names no sizes.</p>}
      <table>
        <tbody>
          {toy.sizes.map((s) => <Row key={s.name} size={s} units={toy.units} />)}
        </tbody>
      </table>
    </section>
  );
}

function Row({ size, units }: { size: Size; units: string }) {
  const [typed, setTyped] = useState<string | null>(null);
  const touch = () => dispatch({ do: "look", look: { parts: size.parts } });
  const leave = () => dispatch({ do: "look", look: null });
  const set = async (e: Event) => {
    const text = (e.target as HTMLInputElement).value.trim(); // what is there now: Enter may come before it is drawn again
    if (text === size.text) return setTyped(null);
    if (await change([{ op: "set", path: size.path, value: text }], `${size.name} ${text}`)) setTyped(null);
  };
  const id = "size-" + size.name;
  return (
    <tr onPointerEnter={touch} onPointerLeave={leave}>
      <th scope="row"><label for={id}>{size.name}</label></th>
      <td>
        <input
          id={id} value={typed ?? size.text} spellcheck={false} autocomplete="off" aria-describedby={id + "-says"}
          onFocus={touch}
          onInput={(e) => setTyped((e.target as HTMLInputElement).value)}
          onBlur={(e) => { leave(); void set(e); }}
          onKeyDown={(e) => {
            if (e.key === "Enter") void set(e);
            if (e.key === "Escape") setTyped(null);
          }}
        />
      </td>
      <td class="quiet" id={id + "-says"}>
        {size.says ? "= " + size.says : units === "inch" && size.mm !== null ? mm(size.mm) : ""}
        <span class="unseen"> changes {size.parts.join(", ") || "no part"}</span>
      </td>
    </tr>
  );
}

function mm(x: number): string {
  return "≈ " + (Math.round(x * 10) / 10).toString() + " mm";
}
