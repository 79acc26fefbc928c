// The layout of boards: it is sought for some seconds, and each better one is shown as it is found.

import { useEffect, useRef, useState } from "preact/hooks";
import type { JobArgs, LaidBoard, LaidStock, LayoutPage, SheetPage } from "../protocol";
import { layout } from "../call";
import { trouble, useModel } from "../store";
import { useKept } from "../kept";
import { Download, NumberField, short, usePicture, usualPrint, wishOf } from "../outputs/parts";

/** Found is a layout and of what it was sought, so that it says when that is no longer so. */
interface Found {
  page: LayoutPage;
  of: JobArgs;
}

/** last keeps the layout of each toy while other pages are looked at. */
const last = new Map<string, Found>();

export function Boards({ job, stem }: { job: JobArgs | null; stem: string }) {
  const file = job?.file ?? "";
  const [seconds, setSeconds] = useKept("layout-seconds", 10);
  const [found, setFound] = useState<Found | null>(last.get(file) ?? null);
  const [since, setSince] = useState<number | null>(null);
  const [ended, setEnded] = useState("");
  const [better, setBetter] = useState(0);
  const running = useRef<AbortController | null>(null);
  useEffect(() => {
    setFound(last.get(file) ?? null);
    return () => running.current?.abort(); // the page is left
  }, [file]);
  const begin = async () => {
    if (!job) return;
    running.current?.abort();
    const mine = new AbortController();
    running.current = mine;
    setSince(performance.now());
    setEnded("");
    setBetter(0);
    try {
      await layout({ ...job, seconds, print: usualPrint }, mine.signal, (e) => {
        if (e.found) {
          const one = { page: e.found, of: job };
          last.set(job.file, one);
          setFound(one);
          setBetter((n) => n + 1);
        }
        if (e.fails) setEnded(e.fails);
        if (e.done) setEnded("The time is over; this is the best that was found.");
      });
    } catch (e) {
      if (!mine.signal.aborted) trouble(e);
    }
    if (running.current === mine) setSince(null);
  };
  const stop = () => {
    running.current?.abort();
    running.current = null;
    setSince(null);
    setEnded(better > 0 ? "Stopped; this is the best so far." : "Stopped before a layout was found.");
  };
  return (
    <section class="boards" aria-labelledby="boards-head" aria-busy={since !== null}>
      <h1 id="boards-head" tabIndex={-1}>Boards</h1>
      <p class="quiet">Where each piece lies on the boards of the shop, to mark them out by with rule and square. The longer it is looked for, the fewer boards it may take.</p>
      <div class="row asks">
        <NumberField name="Seconds" value={seconds} set={setSeconds} min={1} max={600} />
        {since === null ? <button class="main" disabled={!job} onClick={begin}>Lay out</button> : <button class="main" onClick={stop}>Stop</button>}
        {since !== null && <Clock since={since} seconds={seconds} better={better} />}
      </div>
      <p role="status" class="standing">{since !== null ? (better > 0 ? `Layout ${better} is shown; a better one is looked for.` : "Laying the first boards …") : ended}</p>
      {found && <Layout found={found} job={job} stem={stem} />}
    </section>
  );
}

/** tick is how often the time is shown anew, in ms. */
const tick = 200;

function Clock({ since, seconds, better }: { since: number; seconds: number; better: number }) {
  const [now, set] = useState(performance.now());
  useEffect(() => {
    const t = setInterval(() => set(performance.now()), tick);
    return () => clearInterval(t);
  }, []);
  const gone = Math.min(seconds, (now - since) / 1000);
  return (
    <span class="clock">
      <progress max={seconds} value={gone} aria-label="Time gone" />
      <span class="quiet">{gone.toFixed(0)} of {seconds} s, {better === 0 ? "nothing yet" : better === 1 ? "1 layout" : `${better} layouts, each better`}</span>
    </span>
  );
}

function Layout({ found, job, stem }: { found: Found; job: JobArgs | null; stem: string }) {
  const p = found.page;
  const now = useModel((m) => m.open?.state?.hash ?? "");
  const stale = p.hash !== now ? `This layout is of an earlier text (${short(p.hash)}): lay the boards out again.`
    : job && (job.count !== found.of.count || job.shop !== found.of.shop || job.units !== found.of.units) ? "This layout is of another count, shop or unit than is chosen now: lay the boards out again." : "";
  const [alone, setAlone] = useState<number | null>(null);
  return (
    <div class={stale ? "stale" : ""}>
      <h2>{p.title}</h2>
      {stale ? <p class="standing bad" role="status">{stale}</p> : <p class="quiet">As the file is now ({short(p.hash)}).</p>}
      <p class="row">
        <Download job={found.of} run={p.run} wish={wishOf("layout", "pdf")} name={stem + "-boards.pdf"}>Pages to mark out by (PDF)</Download>
        <Download job={found.of} run={p.run} wish={wishOf("layout", "svg")} name={stem + "-boards.svg"}>One drawing (SVG)</Download>
      </p>
      {p.notes.map((n) => <p key={n} class="bad">{n}</p>)}
      <div class="sheets">
        {p.sheets.map((s, i) => <Sheet key={i} s={s} wide={alone === i} toggle={() => setAlone(alone === i ? null : i)} />)}
      </div>
      {p.stocks.map((s) => <Stock key={s.name} s={s} />)}
      {p.unused.length > 0 && <p>Not needed: {p.unused.join(", ")}.</p>}
      <p class="quiet">Kept free: {p.margins}.</p>
    </div>
  );
}

/** Stock is one wood, in words; the drawings say the same. */
function Stock({ s }: { s: LaidStock }) {
  return (
    <section class="laid">
      <h3>{s.name}: {s.says}</h3>
      {(s.short.length > 0 || s.buy.length > 0) && <ul>
        {s.short.map((x) => <li key={x} class="bad">{x}</li>)}
        {s.buy.map((x) => <li key={x}>{x}</li>)}
      </ul>}
      {s.notes.map((n) => <p key={n} class="quiet">{n}</p>)}
      {s.boards.map((b) => <Board key={b.name} b={b} />)}
    </section>
  );
}

function Board({ b }: { b: LaidBoard }) {
  return (
    <details>
      <summary><b>{b.name}</b>: {b.about}</summary>
      <div class="scroll" tabIndex={0} role="group" aria-label={"Pieces on " + b.name}>
        <table>
          <thead><tr>{b.heads.map((h) => <th key={h} scope="col">{h}</th>)}</tr></thead>
          <tbody>{b.rows.map((r, i) => <tr key={i}>{r.map((c, k) => <td key={k}>{c}</td>)}</tr>)}</tbody>
        </table>
      </div>
    </details>
  );
}

function Sheet({ s, wide, toggle }: { s: SheetPage; wide: boolean; toggle: () => void }) {
  const at = usePicture(s.svg);
  return (
    <figure class={"leaf" + (wide ? " wide" : "")}>
      <button class="plain" aria-pressed={wide} onClick={toggle} title={wide ? "Show it small" : "Show it large"}>
        {at && <img src={at} alt={s.title + (wide ? ", shown large" : "")} />}
      </button>
      <figcaption>{s.title}</figcaption>
    </figure>
  );
}
