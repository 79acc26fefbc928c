// The shelf: the toys of the folder.

import { useEffect, useRef, useState } from "preact/hooks";
import type { AsideArgs, Card } from "./protocol";
import { call, make } from "./call";
import { go, hashOf } from "./route";
import { say, trouble, useModel } from "./store";
import { Badge } from "./verdict";

export function ShelfPage() {
  const shelf = useModel((m) => m.shelf);
  const [over, setOver] = useState(false);
  const [aside, setAside] = useState<(AsideArgs & { name: string })[]>([]);
  const back = async (a: AsideArgs & { name: string }) => {
    try {
      await call("back", { at: a.at, file: a.file });
      setAside((all) => all.filter((x) => x.at !== a.at));
      say(a.name + " is on the shelf again");
    } catch (e) {
      trouble(e);
    }
  };
  const drop = async (e: DragEvent) => {
    e.preventDefault();
    setOver(false);
    for (const f of e.dataTransfer?.files ?? []) await take(f);
  };
  if (!shelf) return <p class="wait">Reading the folder …</p>;
  return (
    <div class={"shelf" + (over ? " over" : "")} onDragOver={(e) => { e.preventDefault(); setOver(true); }} onDragLeave={() => setOver(false)} onDrop={drop}>
      <h1>Shelf</h1>
      <p class="quiet">{shelf.toys.length === 0
        ? "There is no toy in this folder yet. Answer the questions below, and there is one that holds; then make it yours. A toy file that you drop here is put on the shelf, too."
        : "Open a toy to draw it, dry-fit it and print it. A toy file that you drop here is put on the shelf."}</p>
      {aside.map((a) => <p key={a.at} class="hint">{a.name} is off the shelf; its file is {a.at} in this folder. <button class="small" onClick={() => back(a)}>Bring {a.name} back</button></p>)}
      <ul class="cards">
        {shelf.toys.map((c) => <li key={c.file}><ToyCard card={c} off={(a) => setAside((all) => [...all, { ...a, name: c.name }])} /></li>)}
      </ul>
      <NewToy />
      <p class="quiet"><a href="/assets/LICENCES.txt" target="_blank">Whose work is built into dryfit, and on what terms</a></p>
    </div>
  );
}

async function take(f: File): Promise<void> {
  try {
    const text = await f.text();
    const made = await call("create", { name: f.name.replace(/\.ya?ml$/i, ""), text, inch: false, axles: 0, hitched: false, length: "", board: "", dowel: "" });
    go({ file: made.file, page: "dry-fit" });
  } catch (e) {
    trouble(e);
  }
}

function ToyCard({ card, off }: { card: Card; off: (a: AsideArgs) => void }) {
  const [menu, setMenu] = useState(false);
  return (
    <article class="card">
      <a href={hashOf({ file: card.file, page: "dry-fit" })} aria-label={"Open " + card.name}>
        {card.problems.length > 0 ? <span class="no-picture" aria-hidden="true">?</span> : <Picture file={card.file} hash={card.hash} />}
        <strong>{card.name}</strong>
      </a>
      <p>{card.problems.length > 0 ? <span class="bad">cannot be read: {card.problems[0].says}</span> : card.verdict ? <Summary card={card} /> : <span class="quiet">being proved …</span>}</p>
      <p class="quiet">{[card.edition ? "edition " + card.edition : "not published", card.pieces ? card.pieces + " pieces" : "", card.ages].filter(Boolean).join(" · ")}</p>
      <button class="small" aria-expanded={menu} onClick={() => setMenu(!menu)}>Copy, rename or take away</button>
      {menu && <Naming card={card} off={off} done={() => setMenu(false)} />}
    </article>
  );
}

function Summary({ card }: { card: Card }) {
  const more = [card.fails && card.fails + " fail", card.untold && card.untold + " untold", card.minds && card.minds + " to mind"].filter(Boolean);
  return <><Badge verdict={card.verdict} /> {more.length > 0 && <span class="quiet">{more.join(", ")}</span>}</>;
}

/** Picture is that of a toy, fetched again when its file has changed. */
function Picture({ file, hash }: { file: string; hash: string }) {
  const [url, setURL] = useState("");
  useEffect(() => {
    const stop = new AbortController();
    let made = "";
    make("picture", { file }, stop.signal)
      .then((b) => setURL((made = URL.createObjectURL(b))))
      .catch(() => {}); // the card says what is wrong
    return () => {
      stop.abort();
      if (made) URL.revokeObjectURL(made);
    };
  }, [file, hash]);
  return url ? <img src={url} alt="" /> : <span class="no-picture" aria-hidden="true" />;
}

function Naming({ card, off, done }: { card: Card; off: (a: AsideArgs) => void; done: () => void }) {
  const [name, setName] = useState(card.name + " again");
  const first = useRef<HTMLInputElement>(null);
  useEffect(() => first.current?.select(), []);
  const make = async (how: "copy" | "rename") => {
    try {
      const made = await call(how, { file: card.file, to: name });
      done();
      if (how === "copy") go({ file: made.file, page: "dry-fit" });
    } catch (e) {
      trouble(e);
    }
  };
  const take = async () => {
    try {
      off(await call("aside", { file: card.file }));
      say(card.name + " is off the shelf");
    } catch (e) {
      trouble(e);
    }
  };
  return (
    <form class="naming" onSubmit={(e) => { e.preventDefault(); void make("copy"); }}>
      <label>Name <input ref={first} value={name} onInput={(e) => setName((e.target as HTMLInputElement).value)} /></label>
      <span class="row">
        <button type="submit">Make a copy</button>
        <button type="button" onClick={() => make("rename")}>Rename the file</button>
        <button type="button" onClick={take}>Take it off the shelf</button>
      </span>
    </form>
  );
}

function NewToy() {
  const [name, setName] = useState("");
  const [inch, setInch] = useState(() => !/^(de|fr|es|it|nl|pl|pt|sv|da|nb|fi|cs|en-(GB|AU|NZ|IE|ZA))/.test(navigator.language));
  const [axles, setAxles] = useState(2);
  const [hitched, setHitched] = useState(false);
  const [length, setLength] = useState("");
  const [board, setBoard] = useState("");
  const [dowel, setDowel] = useState("");
  const submit = async (e: Event) => {
    e.preventDefault();
    try {
      const made = await call("create", { name, inch, axles, hitched, length, board, dowel });
      go({ file: made.file, page: "draw" });
    } catch (e) {
      trouble(e);
    }
  };
  const typed = (set: (s: string) => void) => (e: Event) => set((e.target as HTMLInputElement).value);
  return (
    <form class="new-toy" onSubmit={submit}>
      <h2>A new toy</h2>
      <label class="wide">What is it called? <input required value={name} placeholder="Harbour lorry" onInput={typed(setName)} /></label>
      <fieldset>
        <legend>You measure in</legend>
        <label><input type="radio" name="unit" checked={inch} onChange={() => setInch(true)} /> inches</label>
        <label><input type="radio" name="unit" checked={!inch} onChange={() => setInch(false)} /> millimetres</label>
      </fieldset>
      <fieldset>
        <legend>It is</legend>
        <label><input type="radio" name="cars" checked={!hitched} onChange={() => setHitched(false)} /> one car</label>
        <label><input type="radio" name="cars" checked={hitched} onChange={() => setHitched(true)} /> two, hitched</label>
      </fieldset>
      <fieldset>
        <legend>{hitched ? "Wheels of each car" : "Wheels"}</legend>
        {[2, 3, 4].map((n) => <label key={n}><input type="radio" name="axles" checked={axles === n} onChange={() => setAxles(n)} /> {2 * n}</label>)}
      </fieldset>
      <fieldset>
        <legend>If you know already</legend>
        <label>Length <input value={length} placeholder={inch ? "5" : "120"} onInput={typed(setLength)} /></label>
        <label>Boards, thick <input value={board} placeholder={inch ? "3/4" : "18"} onInput={typed(setBoard)} /></label>
        <label>Dowels, thick <input value={dowel} placeholder={inch ? "1/4" : "6"} onInput={typed(setDowel)} /></label>
      </fieldset>
      <button type="submit" class="main">Make it</button>
    </form>
  );
}
