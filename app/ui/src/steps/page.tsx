// Steps: the guide, one step after the other with its drawing, and a plan of who does what when.

import { useEffect, useRef, useState } from "preact/hooks";
import type { GuideStep, JobArgs, StepsPage as Guide } from "../protocol";
import { make } from "../call";
import { useKept } from "../kept";
import { useAsk, useJob } from "../outputs/ask";
import { Count, Download, Wish, ShopChoice, show, Standing, usePicture, useStem, wishOf } from "../outputs/parts";
import { Crew, handsOf, usualCrew, type Workers } from "./crew";
import { Plan } from "./plan";

export function StepsPage() {
  const [count, setCount] = useKept("count", 1);
  const [shop, setShop] = useKept("shop", "");
  const [workers, setWorkers] = useKept<Workers>("workers", usualCrew);
  const [session, setSession] = useKept("session", "");
  const job = useJob(count, shop);
  const one = useJob(1, shop); // the guide is the same however many are made
  const ways = { hands: handsOf(workers, shop !== ""), session };
  const guide = useAsk("steps", one);
  const plan = useAsk("plan", job && { ...job, ways });
  const stem = useStem();
  const g = guide.value;
  return (
    <div class="outputs">
      <form class="asks" onSubmit={(e) => e.preventDefault()} aria-label="What is made, and by whom">
        <Count value={count} set={setCount} />
        <ShopChoice value={shop} set={setShop} />
        <Wish name="Worked in one go" says={session && "each time on a day of its own"}>
          <select value={session} onChange={(e) => setSession((e.target as HTMLSelectElement).value)}>
            <option value="">as long as it takes</option>
            {["1h", "1h30m", "2h", "3h", "4h", "6h", "8h"].map((s) => <option key={s} value={s}>{sessionSays(s)}</option>)}
          </select>
        </Wish>
        <Crew value={workers} set={setWorkers} shop={shop !== ""} />
      </form>
      <div class="steps">
        <section class="guide" aria-labelledby="guide-head" aria-busy={guide.asking}>
          <header>
            <h1 id="guide-head">Step by step</h1>
            <span class="row">
              <button class="small below" onClick={() => show("plan-head")}>To the plan</button>
              <Download job={one} wish={wishOf("guide", "pdf")} name={stem + "-guide.pdf"}>Guide (PDF)</Download>
              <Download job={one} wish={wishOf("guide", "html")} name={stem + "-guide.html"}>Guide for a tablet (web page)</Download>
            </span>
          </header>
          <Standing hash={g?.hash} asking={guide.asking} fails={guide.fails} what="The guide" />
          {g && <>
            {g.unproved && <p class="short"><strong>This toy is {g.unproved}</strong></p>}
            <details class="who"><summary>Who may do what</summary><ul>{g.who.map((w) => <li key={w}>{w}</li>)}</ul></details>
            {one && g.chapters.map((c) => (
              <section key={c.title} class="chapter">
                <h2>{c.title}</h2>
                {c.says && <p>{c.says}</p>}
                {c.steps.map((s) => <Step key={s.number} s={s} g={g} job={{ ...one, hash: g.hash }} />)}
              </section>
            ))}
            <Checks g={g} />
          </>}
        </section>
        <Plan job={job} ways={ways} count={count} answer={plan} stem={stem} />
      </div>
    </div>
  );
}

function sessionSays(s: string): string {
  const [h, m] = s.split("h");
  return (h === "1" ? "1 hour" : h + " hours") + (m ? " and a half" : "");
}

function Step({ s, g, job }: { s: GuideStep; g: Guide; job: JobArgs }) {
  return (
    <article id={"step-" + s.number} tabIndex={-1} class="step" aria-label={`Step ${s.number}: ${s.title}`}>
      <h3><span class="number">{s.number}</span> {s.title}</h3>
      {s.drawn && <Drawing job={job} step={s} />}
      <ul>{s.does.map((d, i) => <li key={i}>{d}</li>)}</ul>
      {s.measures.length > 0 && <table><tbody>
        {s.measures.map((m, i) => <>
          {m.of && m.of !== s.measures[i - 1]?.of && <tr key={"of" + i}><th colSpan={2} scope="colgroup">{m.of}</th></tr>}
          <tr key={i}><td>{m.what}</td><td>{m.is}</td></tr>
        </>)}
      </tbody></table>}
      {s.minds.map((m, i) => <p key={i} class="minds"><strong>{g.minds}:</strong> {m}</p>)}
      {s.who && <p class="quiet">{s.who}</p>}
      {s.dry && <p class="quiet"><strong>{g.wait}:</strong> {s.dry}</p>}
    </article>
  );
}

/** near is how far below the window a step is drawn already. */
const near = "600px";

/** Drawing is asked for when the step comes near the window. */
function Drawing({ job, step }: { job: JobArgs; step: GuideStep }) {
  const place = useRef<HTMLDivElement>(null);
  const [seen, setSeen] = useState(false);
  const [svg, setSvg] = useState<Blob | null>(null);
  const [fails, setFails] = useState("");
  const at = usePicture(svg);
  useEffect(() => {
    const look = new IntersectionObserver((all) => all.some((e) => e.isIntersecting) && setSeen(true), { rootMargin: near });
    look.observe(place.current!);
    return () => look.disconnect();
  }, []);
  const key = JSON.stringify(job);
  useEffect(() => {
    if (!seen) return;
    const stop = new AbortController();
    make("step", { ...job, step: step.number }, stop.signal).then(
      (b) => { setSvg(b); setFails(""); },
      (e) => { if (!stop.signal.aborted) setFails((e as Error).message); },
    );
    return () => stop.abort();
  }, [seen, key, step.number]);
  return (
    <div class="drawing" ref={place}>
      {at ? <img src={at} alt={`Drawing of step ${step.number}: ${step.title}`} /> : <p class="quiet">{fails || "drawing …"}</p>}
    </div>
  );
}

function Checks({ g }: { g: Guide }) {
  if (g.checks.length === 0) return null;
  return (
    <section class="chapter" id="step-0" tabIndex={-1}>
      <h2>Check the finished toy</h2>
      <table><tbody>{g.checks.map((c, i) => <tr key={i}><td>{c.what}</td><td>{c.is}</td></tr>)}</tbody></table>
    </section>
  );
}
