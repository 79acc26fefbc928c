// The named sizes as a small table: type another value, and all that hangs on it follows.

import { useEffect, useRef, useState } from "preact/hooks";
import { Wrong } from "./draw/field";
import { shown } from "./draw/lengths";
import { named } from "./names";
import type { Size, Toy } from "./protocol";
import { change, dispatch, rename, takeTrouble, useModel } from "./store";
import { useTyped } from "./typed";
import { saidText, symbols, useHand, worded, type Hand } from "./units";

export function Sizes() {
  const toy = useModel((m) => m.open?.toy ?? null);
  const hand = useHand();
  const [naming, setNaming] = useState(""); // the size that is to be called something else
  if (!toy) return null;
  return (
    <section class="sizes" aria-labelledby="sizes-head">
      <h2 id="sizes-head">Sizes</h2>
      {toy.sizes.length === 0 && <p class="quiet">This toy names no sizes.</p>}
      <table>
        <tbody>
          {toy.sizes.map((s) => <Row key={s.name} size={s} hand={hand} name={() => setNaming(s.name)} />)}
        </tbody>
      </table>
      <Names toy={toy} hand={hand} of={naming} setOf={setNaming} />
    </section>
  );
}

interface NamesProps {
  toy: Toy;
  hand: Hand;
  of: string; // the size that gets another name; "": a new one
  setOf: (name: string) => void;
}

/** Names names a new size, or gives one another name. */
function Names({ toy, hand, of, setOf }: NamesProps) {
  const [name, setName] = useState(""), [value, setValue] = useState("");
  const [wrong, setWrong] = useState("");
  const called = useRef<HTMLInputElement>(null), all = useRef<HTMLDetailsElement>(null);
  useEffect(() => {
    setName(of);
    setWrong("");
    if (!of || !all.current || all.current.contains(document.activeElement)) return;
    all.current.open = true; // by a double click on the size
    called.current?.focus();
  }, [of]);
  const known = toy.sizes.some((s) => s.name === of);
  const send = async (e: Event) => {
    e.preventDefault();
    const said = named(name);
    if (said.wrong) return setWrong(said.wrong);
    try {
      const done = known
        ? await rename("sizes." + of, said.name)
        : await change([{ op: "insert", path: "sizes." + said.name, value: (await worded([value], hand))[0], as: "text" }], "size " + said.name);
      if (!done) return setWrong(takeTrouble());
      setOf("");
      setName("");
      setValue("");
    } catch (e) {
      setWrong(e instanceof Error ? e.message : String(e));
    }
  };
  const typed = (set: (s: string) => void) => (e: Event) => {
    setWrong("");
    set((e.target as HTMLInputElement).value);
  };
  return (
    <details ref={all}>
      <summary>Name a size, or call it something else</summary>
      <form class="naming" onSubmit={send}>
        <label class="field"><span>which</span>
          <select value={known ? of : ""} onChange={typed(setOf)}>
            <option value="">a new one</option>
            {toy.sizes.map((s) => <option key={s.name} value={s.name}>{s.name}</option>)}
          </select>
        </label>
        <label class="field"><span>called</span><input ref={called} required value={name} aria-invalid={wrong !== ""} aria-describedby="name-size-wrong" autocomplete="off" onInput={typed(setName)} /></label>
        {!known && <label class="field"><span>is</span><input required value={value} autocomplete="off" onInput={typed(setValue)} /></label>}
        <Wrong id="name-size-wrong" says={wrong} />
        <button class="small">{known ? "Give it this name" : "Put it with the sizes"}</button>
      </form>
    </details>
  );
}

function Row({ size, hand, name }: { size: Size; hand: Hand; name: () => void }) {
  const touch = () => dispatch({ do: "look", look: { parts: size.parts } });
  const leave = () => dispatch({ do: "look", look: null });
  const t = useTyped(saidText(size, hand), async (text) => {
    const [value] = await worded([text], hand);
    return change([{ op: "set", path: size.path, value }], `${size.name} ${value}`);
  });
  const id = "size-" + size.name;
  return (
    <tr onPointerEnter={touch} onPointerLeave={leave}>
      <th scope="row"><label for={id} onDblClick={name}>{size.name}</label></th>
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
