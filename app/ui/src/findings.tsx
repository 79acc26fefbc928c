// What the proof found, the worst first, in plain words.

import { useState } from "preact/hooks";
import type { Finding, Mended } from "./protocol";
import { call } from "./call";
import { byWorst, change, dispatch, findingsOf, now, trouble, useModel } from "./store";
import { Badge } from "./verdict";

export function Findings() {
  const open = useModel((m) => m.open);
  const [all, setAll] = useState(false);
  const list = byWorst(findingsOf(open));
  const bad = list.filter((f) => f.verdict !== "holds" && f.verdict !== "waived");
  const good = list.length - bad.length;
  const proof = open?.proof;
  const problems = open?.state?.problems ?? [];
  return (
    <section class="findings" aria-labelledby="findings-head" aria-busy={!proof?.done} data-hash={proof?.hash} data-quick={proof?.quick}>
      <h2 id="findings-head" tabIndex={-1}>Findings</h2>
      {problems.length > 0 && (
        <div class="problems" role="alert">
          <p><strong>The file cannot be read as it is now</strong>; what you see is of the last text that could.</p>
          <ul>{problems.map((p, i) => <li key={i}>line {p.line}: {p.says}{p.expected && <>; expected {p.expected}</>}{p.nearest && <>; did you mean {p.nearest}?</>}</li>)}</ul>
        </div>
      )}
      <p role="status" class="sum">
        {!proof ? "" : proof.done ? summary(bad, good) : "looking …"}
      </p>
      <ul class="list">
        {bad.map((f) => <Row key={f.id} f={f} />)}
      </ul>
      <button class="small" aria-expanded={all} onClick={() => setAll(!all)}>{all ? "Hide what holds" : `Show what holds (${good})`}</button>
      {all && <ul class="list">{list.filter((f) => f.verdict === "holds" || f.verdict === "waived").map((f) => <Row key={f.id} f={f} />)}</ul>}
      {all && proof && proof.notAsked.length > 0 && <p class="quiet">Not asked: {proof.notAsked.map((n) => `${n.check} (${n.why})`).join(", ")}.</p>}
    </section>
  );
}

function summary(bad: Finding[], good: number): string {
  const n = (v: string) => bad.filter((f) => f.verdict === v).length;
  const parts = [n("fails") && `${n("fails")} fail`, n("cannot tell") && `${n("cannot tell")} cannot be told`, n("mind") && `${n("mind")} to mind`].filter(Boolean);
  return (parts.length ? parts.join(", ") + "; " : "") + `${good} hold`;
}

function Row({ f }: { f: Finding }) {
  const look = useModel((m) => m.look);
  const [more, setMore] = useState(false);
  const chosen = look?.finding === f.id;
  return (
    <li class={"finding" + (chosen ? " chosen" : "")}>
      <button class="plain" aria-pressed={chosen} onClick={() => dispatch({ do: "look", look: chosen ? null : { finding: f.id } })}>
        <Badge verdict={f.verdict} /> <span>{f.about && <b>{f.about}: </b>}{f.says}</span>
      </button>
      <span class="row">
        <button class="small" aria-expanded={more} onClick={() => setMore(!more)}>Why</button>
        {f.verdict === "fails" && <Mend f={f} />}
      </span>
      {more && <div class="why">
        {f.notes.map((n, i) => <p key={i}>{n}</p>)}
        {f.limit_source && <p class="quiet">Limit from: {f.limit_source}</p>}
        <Explained check={f.check} />
      </div>}
    </li>
  );
}

function Explained({ check }: { check: string }) {
  const [text, setText] = useState<string | null>(null);
  const ask = async () => {
    try {
      setText((await call("why", { check })).text);
    } catch (e) {
      trouble(e);
    }
  };
  return text === null ? <button class="small" onClick={ask}>How is this worked out?</button> : <pre tabIndex={0}>{text}</pre>;
}

/** Mend looks for the value of one size that would do, and makes it so when asked. */
function Mend({ f }: { f: Finding }) {
  const [state, setState] = useState<"" | "looking" | Mended>("");
  const ask = async () => {
    setState("looking");
    const file = openFile();
    if (!file) return;
    try {
      setState(await call("mend", { file, check: f.check, about: f.about, units: now().units }));
    } catch (e) {
      setState("");
      trouble(e);
    }
  };
  const found = typeof state === "object";
  const mend = found && state.found ? state.mends[0] : null;
  const make = async () => {
    if (mend && (await change([{ op: "set", path: "sizes." + mend.size, value: mend.to }], `mend: ${mend.size} ${mend.to}`))) document.getElementById("findings-head")?.focus(); // the finding is gone
  };
  // The button is the same throughout, so that the focus stays where it is.
  return (
    <>
      <button class={"small" + (mend ? " main" : "")} aria-disabled={state === "looking"} onClick={mend ? make : state === "" ? ask : undefined}>
        {mend && found ? `Mend: ${mend.size} ${state.from} → ${state.to}` : state === "looking" ? "Looking …" : found ? "No mend found" : "Find a mend"}
      </button>
      <span class="quiet" role="status">{found && !mend ? "No single size mends this." : ""}</span>
    </>
  );
}

function openFile(): string | undefined {
  return now().open?.file;
}
