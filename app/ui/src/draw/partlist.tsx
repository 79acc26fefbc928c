// The parts and glue-ups of the toy, and how a new one is begun.

import { useEffect, useRef, useState } from "preact/hooks";
import type { Toy } from "../protocol";
import { named } from "../names";
import { change, dispatch, takeTrouble } from "../store";
import { useHand, worded } from "../units";
import { Wrong } from "./field";
import { shown } from "./lengths";

interface Props {
  toy: Toy;
  chosen: string;
  choose: (path: string) => void;
}

export function PartList({ toy, chosen, choose }: Props) {
  const rows = (kind: string, heading: string) => {
    const list = toy.parts.filter((p) => (kind === "glue-up") === (p.shape === "glue-up"));
    if (list.length === 0) return null;
    return (
      <>
        <h2>{heading}</h2>
        <ul>
          {list.map((p) => (
            <li key={p.path}>
              <button class="plain" aria-current={chosen === p.path ? "true" : undefined} onClick={() => choose(p.path)}
                onPointerEnter={() => dispatch({ do: "look", look: { parts: [p.name] } })} onPointerLeave={() => dispatch({ do: "look", look: null })}>
                {p.name} <span class="quiet">{p.pieces.length === 1 ? "" : p.pieces.length + " ×"}</span>
              </button>
            </li>
          ))}
        </ul>
      </>
    );
  };
  return (
    <nav class="parts" aria-label="Parts of the toy">
      <button class="plain whole" aria-current={chosen === "" ? "true" : undefined} onClick={() => choose("")}>The whole toy, from the side</button>
      {rows("part", "Parts")}
      {rows("glue-up", "Glue-ups")}
      <NewPart toy={toy} choose={choose} />
    </nav>
  );
}

function NewPart({ toy, choose }: { toy: Toy; choose: (path: string) => void }) {
  const [open, setOpen] = useState(false);
  const first = useRef<HTMLInputElement>(null), button = useRef<HTMLButtonElement>(null);
  useEffect(() => first.current?.focus(), [open]);
  const flat = toy.stock.filter((s) => s.form === "board" || s.form === "sheet");
  const [name, setName] = useState("");
  const [wrong, setWrong] = useState("");
  const [stock, setStock] = useState(flat[0]?.name ?? "");
  const h = useHand(), usual = h.hand === "inch" ? ["4", "1 1/2"] : ["100", "40"];
  const [typedLength, setLength] = useState<string | null>(null);
  const [typedWidth, setWidth] = useState<string | null>(null);
  const length = typedLength ?? usual[0], width = typedWidth ?? usual[1];
  const make = async (e: Event) => {
    e.preventDefault();
    const { name: key, wrong } = named(name);
    const refuse = (why: string) => {
      setWrong(why);
      first.current?.focus();
    };
    if (wrong) return refuse(wrong);
    const under = toy.parts.find((p) => p.pieces.length > 0 && p.shape === "block")?.pieces[0];
    const sits = under ? `, sits: {bottom: ${under}.top, back: ${under}.back, middle: ${under}.middle}, glued: yes` : "";
    const size = await worded([length, width], h).catch((x: Error) => setWrong(x.message));
    if (!size) return;
    const done = await change(
      [
        { op: "insert", path: "parts." + key, value: `{from: ${stock}, blank: [${size.join(", ")}]}`, as: "yaml" },
        { op: "insert", path: "build[+]", value: `{put: ${key}${sits}}`, as: "yaml" },
      ],
      "new part " + key,
    );
    if (!done) return refuse(takeTrouble());
    setOpen(false);
    setName("");
    choose("parts." + key);
  };
  return (
    <>
      <button ref={button} aria-expanded={open} onClick={() => setOpen(!open)}>New part</button>
      {open && <form class="naming" onSubmit={make}>
        <label>Name <input ref={first} required value={name} aria-invalid={wrong !== ""} aria-describedby="new-part-wrong" autocomplete="off" onInput={(e) => { setName((e.target as HTMLInputElement).value); setWrong(""); }} /></label>
        <Wrong id="new-part-wrong" says={wrong} />
        <label>From <select value={stock} onChange={(e) => setStock((e.target as HTMLSelectElement).value)}>{flat.map((s) => <option key={s.name} value={s.name}>{s.name} ({s.wood}, {shown(s.size, h.hand)})</option>)}</select></label>
        <label>Length <input required value={length} onInput={(e) => setLength((e.target as HTMLInputElement).value)} /></label>
        <label>Width <input required value={width} onInput={(e) => setWidth((e.target as HTMLInputElement).value)} /></label>
        <span class="row"><button class="main" type="submit">Make it</button><button type="button" onClick={() => { button.current?.focus(); setOpen(false); setWrong(""); }}>Not now</button></span>
      </form>}
    </>
  );
}
