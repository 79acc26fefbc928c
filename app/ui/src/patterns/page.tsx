// Patterns: the pages as they are printed, the printer made up for, and all files to take away.

import { useEffect, useRef, useState } from "preact/hooks";
import type { SheetPage } from "../protocol";
import { Hint } from "../hint";
import { useKept } from "../kept";
import { useAsk, useJob } from "../outputs/ask";
import { ShopChoice, Wish, Standing, useStem, usePicture, usualPrint } from "../outputs/parts";
import { useHand } from "../units";
import { Files } from "./files";
import { Bar, Printer } from "./printer";

export function PatternsPage() {
  const [print, setPrint] = useKept("print", usualPrint);
  const [shop, setShop] = useKept("shop", "");
  const job = useJob(1, shop);
  const answer = useAsk("patterns", job && { ...job, print });
  const stem = useStem();
  const { hand } = useHand();
  const p = answer.value;
  const paper = print.paper || p?.paper || "";
  const roll = print.paper.startsWith("roll=");
  return (
    <div class="outputs">
      <form class="asks" onSubmit={(e) => e.preventDefault()} aria-label="What is printed on">
        <Wish name="Paper">
          <select value={roll ? "roll" : paper} onChange={(e) => {
            const v = (e.target as HTMLSelectElement).value;
            setPrint({ ...print, paper: v === "roll" ? "roll=" + usualRoll(hand === "inch") : v });
          }}>
            {(p?.papers ?? [paper]).map((n) => <option key={n} value={n}>{paperSays(n)}</option>)}
            <option value="roll">off a roll</option>
          </select>
        </Wish>
        {roll && <Typed name="Width of the roll" value={print.paper.slice(5)} set={(w) => setPrint({ ...print, paper: "roll=" + w })} />}
        <Typed name="Left free at the edges" value={print.margin} set={(margin) => setPrint({ ...print, margin })} says="as 10 mm, or bottom=15mm; empty: 7 mm" />
        <ShopChoice value={shop} set={setShop} />
      </form>
      <div class="patterns">
        <section class="preview" aria-labelledby="preview-head" aria-busy={answer.asking}>
          <h1 id="preview-head">Patterns</h1>
          <Standing hash={p?.hash} asking={answer.asking} fails={answer.fails} what="The patterns" />
          {p?.says && <p class="short"><strong>{shop ? `With the tools of ${shop} this toy` : "This toy"} is {p.says}</strong>; every page says so.</p>}
          {p && <Hint id="patterns" done={print.correctX !== 0 || print.correctY !== 0}>Print one page at 100 % first and measure its two bars: both are 100 mm, or Your printer makes up for it. Then print the rest and cut.</Hint>}
          {p && <Sheets sheets={p.sheets} />}
        </section>
        <aside class="side">
          <Printer print={print} set={setPrint} />
          <Files job={job} print={print} stem={stem} />
        </aside>
      </div>
    </div>
  );
}

/** usualRoll is a width of paper off a roll that copy shops have. Common practice, no source. */
function usualRoll(inch: boolean): string {
  return inch ? "24 in" : "610 mm";
}

function paperSays(name: string): string {
  return name.length === 2 ? name.toUpperCase() : name[0]?.toUpperCase() + name.slice(1);
}

/** Typed takes a text in when it is left or Enter is pressed. */
function Typed({ name, value, set, says }: { name: string; value: string; set: (v: string) => void; says?: string }) {
  const [typed, type] = useState<string | null>(null);
  const done = () => {
    if (typed !== null && typed.trim() !== value) set(typed.trim());
    type(null);
  };
  return (
    <Wish name={name} says={says}>
      <input value={typed ?? value} spellcheck={false} autocomplete="off" onInput={(e) => type((e.target as HTMLInputElement).value)} onBlur={done} onKeyDown={(e) => e.key === "Enter" && done()} />
    </Wish>
  );
}

/** zooms are shares of true size; 0 is as large as the window. */
const zooms = [0, 0.5, 0.75, 1, 1.5, 2];

function Sheets({ sheets }: { sheets: SheetPage[] }) {
  const [at, setAt] = useState(0);
  const [zoom, setZoom] = useState(0);
  const [bar, setBar] = useKept("screen-bar", 100); // what 100 mm of the browser are on this screen
  const n = Math.min(at, sheets.length - 1);
  const s = sheets[n];
  const picture = usePicture(s?.svg ?? null);
  const desk = useRef<HTMLDivElement>(null);
  useEffect(() => desk.current?.scrollTo(0, 0), [n]);
  if (!s) return <p>There is nothing to draw a pattern of.</p>;
  const mm = (x: number) => x * zoom * (100 / bar) + "mm";
  const keys = (e: KeyboardEvent) => {
    if (e.key === "PageDown" && n < sheets.length - 1) setAt(n + 1);
    else if (e.key === "PageUp" && n > 0) setAt(n - 1);
    else return;
    e.preventDefault();
  };
  return (
    <>
      <div class="row turning">
        <button disabled={n === 0} onClick={() => setAt(n - 1)}>← Page before</button>
        <span role="status">page {n + 1} of {sheets.length}</span>
        <button disabled={n === sheets.length - 1} onClick={() => setAt(n + 1)}>Next page →</button>
        <label class="zoom">Shown <select value={zoom} onChange={(e) => setZoom(+(e.target as HTMLSelectElement).value)}>
          {zooms.map((z) => <option key={z} value={z}>{z === 0 ? "whole page" : z === 1 ? "true size (100 %)" : z * 100 + " %"}</option>)}
        </select></label>
        {zoom === 1 && <Bar name="The bar of 100 mm measures on this screen" value={0} least={50} most={200} set={(mm) => mm && setBar((bar * mm) / 100)} />}
      </div>
      <div class="desk" ref={desk} tabIndex={0} role="group" aria-label="The page; Page Down and Page Up turn pages" onKeyDown={keys}>
        {picture && <img class={zoom === 0 ? "print whole" : "print"} src={picture} alt={`Page ${n + 1} of ${sheets.length}, ${s.wide} by ${s.high} mm: ${s.title}`} style={zoom > 0 ? { width: mm(s.wide), height: mm(s.high) } : undefined} />}
      </div>
    </>
  );
}
