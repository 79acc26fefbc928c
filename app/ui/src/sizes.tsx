// The named sizes as a small table: type another value, and all that hangs on it follows.

import { useState } from "preact/hooks";
import { Wrong } from "./draw/field";
import { shown } from "./draw/lengths";
import type { Size, Toy } from "./protocol";
import { change, dispatch, rename, trouble, useModel } from "./store";
import { useTyped } from "./typed";
import { saidText, symbols, useHand, worded, type Hand } from "./units";

export function Sizes() {
  const toy = useModel((m) => m.open?.toy ?? null);
  const hand = useHand();
  if (!toy) return null;
  return (
    <section class="sizes" aria-labelledby="sizes-head">
      <h2 id="sizes-head">Sizes</h2>
      {toy.sizes.length === 0 && <p class="quiet">This toy names no sizes.</p>}
      <table>
        <tbody>
          {toy.sizes.map((s) => <Row key={s.name} size={s} hand={hand} />)}
        </tbody>
      </table>
      <Names toy={toy} hand={hand} />
    </section>
  );
}

/** Names names a new size, or gives one another name. */
function Names({ toy, hand }: { toy: Toy; hand: Hand }) {
  const [of, setOf] = useState("");
  const [name, setName] = useState(""), [value, setValue] = useState("");
  const known = toy.sizes.some((s) => s.name === of);
  const send = async (e: Event) => {
    e.preventDefault();
    try {
      const done = known
        ? await rename("sizes." + of, name)
        : await change([{ op: "insert", path: "sizes." + name, value: (await worded([value], hand))[0], as: "text" }], "size " + name);
      if (!done) return;
      setOf("");
      setName("");
      setValue("");
    } catch (e) {
      trouble(e);
    }
  };
  const typed = (set: (s: string) => void) => (e: Event) => set((e.target as HTMLInputElement).value);
  return (
    <details>
      <summary>Name a size</summary>
      <form class="naming" onSubmit={send}>
        <label class="field"><span>which</span>
          <select value={known ? of : ""} onChange={typed(setOf)}>
            <option value="">a new one</option>
            {toy.sizes.map((s) => <option key={s.name} value={s.name}>{s.name}</option>)}
          </select>
        </label>
        <label class="field"><span>called</span><input required value={name} pattern="[A-Za-z][A-Za-z0-9\-]*" title="a letter, then letters, digits or hyphens" autocomplete="off" onInput={typed(setName)} /></label>
        {!known && <label class="field"><span>is</span><input required value={value} autocomplete="off" onInput={typed(setValue)} /></label>}
        <button class="small">{known ? "Give it this name" : "Put it with the sizes"}</button>
      </form>
    </details>
  );
}

function Row({ size, hand }: { size: Size; hand: Hand }) {
  const touch = () => dispatch({ do: "look", look: { parts: size.parts } });
  const leave = () => dispatch({ do: "look", look: null });
  const t = useTyped(saidText(size, hand), async (text) => {
    try {
      const [value] = await worded([text], hand);
      return await change([{ op: "set", path: size.path, value }], `${size.name} ${value}`);
    } catch (e) {
      trouble(e);
      return false;
    }
  });
  const id = "size-" + size.name;
  return (
    <tr onPointerEnter={touch} onPointerLeave={leave}>
      <th scope="row"><label for={id}>{size.name}</label></th>
      <td>
        <input
          id={id} value={t.value} spellcheck={false} autocomplete="off" aria-invalid={t.wrong !== ""} aria-describedby={`${id}-says ${id}-wrong`}
          {...t.on} onFocus={touch}
          onBlur={(e) => {
            leave();
            t.on.onBlur(e);
          }}
        />
        <Wrong id={id + "-wrong"} says={t.wrong} />
      </td>
      <td class="quiet" id={id + "-says"}>
        {worth(size, hand)}
        <span class="unseen"> changes {size.parts.join(", ") || "no part"}</span>
      </td>
    </tr>
  );
}

/** worth is what a size comes to. */
function worth(size: Size, { own, hand }: Hand): string {
  if (size.mm === null) return size.says ? "= " + size.says : "";
  if (own !== hand) return `= ${shown(size.mm, hand)} ${symbols[hand]}`;
  if (size.says) return "= " + size.says;
  return own === "inch" ? "≈ " + (Math.round(size.mm * 10) / 10).toString() + " mm" : "";
}
