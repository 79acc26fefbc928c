// The frame around all pages: what is open, where one is, what was said.

import { useEffect } from "preact/hooks";
import type { JSX } from "preact";
import { call } from "./call";
import { Bar } from "./bar";
import { DraftPage } from "./draw/page";
import { FilePage } from "./file/page";
import { DryFit } from "./dryfit/page";
import { OthersPage } from "./others/page";
import { PatternsPage } from "./patterns/page";
import { hashOf, pages, useRoute, type PageId, type Route } from "./route";
import { ShelfPage } from "./shelf";
import { StepsPage } from "./steps/page";
import { StockPage } from "./stock/page";
import { follow, hush, redo, took, trouble, undo, useModel } from "./store";

const contents: Record<PageId, () => JSX.Element> = {
  draw: DraftPage,
  "dry-fit": DryFit,
  stock: StockPage,
  steps: StepsPage,
  patterns: PatternsPage,
  others: OthersPage,
  file: FilePage,
};

export function App() {
  const route = useRoute();
  useEffect(() => void follow(route.file), [route.file]);
  useEffect(() => {
    addEventListener("keydown", keys);
    return () => removeEventListener("keydown", keys);
  }, []);
  useEffect(hush, [route.file, route.page]);
  const toy = useModel((m) => m.open?.toy?.name ?? m.open?.file ?? "");
  useEffect(() => {
    const page = pages.find((p) => p.id === route.page)!.name;
    document.title = route.file === null ? "Shelf: dryfit" : `${toy}: ${page}`;
  }, [route.file, route.page, toy]);
  const Page = contents[route.page];
  return (
    <>
      <a class="skip" href="#content" onClick={toContent}>To the page itself</a>
      <Bar route={route} />
      <Notices route={route} />
      <main id="content" tabIndex={-1}>{route.file === null ? <ShelfPage /> : <Page key={route.file + route.page} />}</main>
      <Says />
    </>
  );
}

function toContent(e: Event): void {
  e.preventDefault(); // the address is that of the page
  document.getElementById("content")?.focus();
}

/** keys undoes and does again, except where a text is being typed. */
function keys(e: KeyboardEvent): void {
  if (e.key === "Escape") hush();
  const typing = (e.target as HTMLElement).closest("input:not([type=range], [type=radio], [type=checkbox]), textarea, [contenteditable=true]");
  if (typing || !(e.ctrlKey || e.metaKey)) return;
  const key = e.key.toLowerCase();
  if (key === "z" && !e.shiftKey) {
    e.preventDefault();
    void undo();
  } else if (key === "y" || (key === "z" && e.shiftKey)) {
    e.preventDefault();
    void redo();
  }
}

/** Notices are what stays until it is over: the program gone, a file not saved, two versions. */
function Notices({ route }: { route: Route }) {
  const there = useModel((m) => m.there);
  const state = useModel((m) => m.open?.state ?? null);
  return (
    <div class="notices" role="status">
      {there === "no" && <p class="notice bad">dryfit does not answer. What you see is the last it said. If it was ended, start it again, and open the address that it gives; all that was done is saved.</p>}
      {there === "anew" && <p class="notice bad">dryfit was started anew, and does not know this page any more: open the address that it gives now. What you typed and could not be taken is still here to be copied.</p>}
      {state && state.problems.length > 0 && route.page !== "file" && (
        <p class="notice bad"><strong>{state.file} cannot be read as it is now:</strong> line {state.problems[0].line}: {state.problems[0].says}. What you see is of the last text that could. <a href={hashOf({ file: state.file, page: "file" })}>See the file</a></p>
      )}
      {state?.unsaved && <p class="notice bad">{state.file} could not be saved ({state.unsaved}). It is tried again all the time; what you did is kept here until then.</p>}
      {state?.gone && <p class="notice bad">{state.file} is no longer in the folder. The next change writes it anew.</p>}
      {state?.forgets && <p class="notice">Undoing will not reach back beyond a restart: {state.forgets}.</p>}
      {state?.other != null && <Versions />}
    </div>
  );
}

/** Versions asks which of two versions stays; none is lost whatever is chosen. */
function Versions() {
  const state = useModel((m) => m.open!.state!);
  const choose = async (choice: string) => {
    try {
      took(await call("choose", { file: state.file, choice }));
    } catch (e) {
      trouble(e);
    }
  };
  return (
    <div class="notice bad">
      <p>Another program has written {state.file} while a change of yours was not saved yet. Undo leads back to the other version, whichever you choose.</p>
      <p class="row">
        <button onClick={() => choose("here")}>Keep mine</button>
        <button onClick={() => choose("there")}>Take the other</button>
        <button onClick={() => choose("apart")}>Take the other, and keep mine as a file of its own</button>
      </p>
      <div class="versions">
        <figure><figcaption>Mine</figcaption><pre tabIndex={0}>{differing(state.text, state.other ?? "")}</pre></figure>
        <figure><figcaption>The other</figcaption><pre tabIndex={0}>{differing(state.other ?? "", state.text)}</pre></figure>
      </div>
    </div>
  );
}

/** differing is the lines of a text in which another differs, between those that begin and end alike. */
function differing(text: string, other: string): string {
  const a = text.split("\n"), b = other.split("\n");
  let from = 0, end = 0;
  while (from < Math.min(a.length, b.length) && a[from] === b[from]) from++;
  while (end < Math.min(a.length, b.length) - from && a[a.length - 1 - end] === b[b.length - 1 - end]) end++;
  return a.slice(Math.max(0, from - 1), Math.min(a.length, a.length - end + 1)).join("\n") || "(nothing)";
}

/** Says is the last thing said, read out by screen readers: two regions, that neither is missed
 * because it was the other a moment ago. */
function Says() {
  const says = useModel((m) => m.says);
  const of = (trouble: boolean) => says?.trouble === trouble && (
    <p key={says.n} class={trouble ? "bad" : ""}>{says.text} {trouble && <button class="small" onClick={hush}>Close</button>}</p>
  );
  return (
    <div class="says">
      <div role="status">{of(false)}</div>
      <div role="alert">{of(true)}</div>
    </div>
  );
}
