// Things that the pages of what is made have in common.

import { useEffect, useState } from "preact/hooks";
import type { ComponentChildren } from "preact";
import type { FileWish, JobArgs } from "../protocol";
import { make } from "../call";
import { say, trouble, useModel } from "../store";
import { useShops } from "./ask";

/** Wish is a choice with its name before it and, where there is something to say, words below. */
export function Wish({ name, says, children }: { name: string; says?: string; children: ComponentChildren }) {
  return <label class="wish"><span>{name}</span>{children}{says && <small>{says}</small>}</label>;
}

/** Count asks how many toys are made. */
export function Count({ value, set }: { value: number; set: (n: number) => void }) {
  return <NumberField name="How many toys" value={value} set={set} min={1} max={500} />;
}

/** NumberField takes a number in once it is one that may be. */
export function NumberField({ name, value, set, min, max, step = 1, says }: { name: string; value: number; set: (n: number) => void; min: number; max: number; step?: number; says?: string }) {
  const [typed, type] = useState<string | null>(null);
  const fits = (s: string) => s.trim() !== "" && Number.isFinite(+s) && +s >= min && +s <= max && (step !== 1 || Number.isInteger(+s));
  const wrong = typed !== null && !fits(typed);
  return (
    <Wish name={name} says={wrong ? `a number from ${min} to ${max}` : says}>
      <input
        type="number" min={min} max={max} step={step} value={typed ?? value} aria-invalid={wrong}
        onInput={(e) => {
          const s = (e.target as HTMLInputElement).value;
          type(s);
          if (fits(s)) set(+s);
        }}
        onBlur={() => type(null)}
      />
    </Wish>
  );
}

/** ShopChoice asks which shop file says what there is. */
export function ShopChoice({ value, set }: { value: string; set: (file: string) => void }) {
  const shops = useShops();
  useEffect(() => {
    if (shops && value && !shops.some((s) => s.file === value)) set(""); // it has gone
  }, [shops, value]);
  const chosen = shops?.find((s) => s.file === value);
  const says = chosen?.fails ? "it cannot be read: " + chosen.fails : shops?.length === 0 ? "put the file of your shop in this folder, or in shop/ below it" : "";
  return (
    <Wish name="Shop" says={says}>
      <select value={value} onChange={(e) => set((e.target as HTMLSelectElement).value)}>
        <option value="">none: what is commonly sold</option>
        {shops?.map((s) => <option key={s.file} value={s.file}>{s.file}</option>)}
      </select>
    </Wish>
  );
}

/** Standing says how what is shown stands to the toy's text: it is worked on, it is of an earlier
 * text, or it could not be made. hash is of the text that it is of. */
export function Standing({ hash, asking, fails, what }: { hash: string | undefined; asking: boolean; fails: string; what: string }) {
  const now = useModel((m) => m.open?.state?.hash ?? "");
  const stale = hash !== undefined && hash !== now;
  return (
    <p class={"standing" + (fails || (stale && !asking) ? " bad" : "")} role="status">
      {asking ? (hash === undefined ? `${what}: working it out …` : `${what}: working it out again; what you see is of the file as it was …`)
        : fails ? `${fails}.${hash === undefined ? "" : " What you see is of the file as it was (" + short(hash) + ")."}`
        : stale ? `This is of the file as it was before (${short(hash)}).`
        : hash !== undefined && <span class="quiet">As the file is now <span title="Papers of the same file have the same mark">({short(hash)})</span>.</span>}
    </p>
  );
}

/** show goes to a place on the page; links within it would change the address, which is that of the
 * page. */
export function show(id: string): void {
  const place = document.getElementById(id);
  place?.scrollIntoView({ block: "start" });
  place?.focus({ preventScroll: true });
}

/** short is enough of a hash to tell texts apart by eye. */
export function short(hash: string): string {
  return hash.slice(0, 8);
}

/** usePicture gives bytes an address that an image can show, for as long as it is shown. */
export function usePicture(svg: string | Blob | null): string | undefined {
  const [at, set] = useState<string | undefined>();
  useEffect(() => {
    if (svg === null) return set(undefined);
    const url = URL.createObjectURL(svg instanceof Blob ? svg : new Blob([svg], { type: "image/svg+xml" }));
    set(url);
    return () => URL.revokeObjectURL(url);
  }, [svg]);
  return at;
}

/** Download makes a file and hands it to the browser. */
export function Download({ job, wish, run, name, children }: { job: JobArgs | null; wish: FileWish; run?: number; name: string; children: ComponentChildren }) {
  const [making, set] = useState(false);
  const save = async () => {
    if (!job) return;
    set(true);
    try {
      hand(await make("file", { ...job, wish, run: run ?? 0 }), name);
      say(name + " is in your downloads");
    } catch (e) {
      trouble(e);
    }
    set(false);
  };
  return <button class="small" disabled={!job || making} onClick={save}>{children}{making && " …"}</button>;
}

/** kept is how long the browser is given to take a file over, in ms. */
const kept = 60_000;

function hand(bytes: Blob, name: string): void {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(bytes);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), kept);
}

/** stem is the name of the toy's file without its ending. */
export function useStem(): string {
  return useModel((m) => m.open?.file ?? "toy").replace(/\.ya?ml$/, "");
}

/** wishOf is a wish for a file with nothing special asked for. */
export function wishOf(what: string, format: string, more: Partial<FileWish> = {}): FileWish {
  return { what, format, view: "", count: 1, ways: { hands: "", session: "" }, print: usualPrint, ...more };
}

export const usualPrint = { paper: "", margin: "", correctX: 0, correctY: 0 };
