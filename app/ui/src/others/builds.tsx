// Virtual builds: made until all are, with what is known so far shown all the time.

import { useEffect, useRef, useState } from "preact/hooks";
import type { BuildsPage, JobArgs, ShareShown } from "../protocol";
import { builds } from "../call";
import { trouble, useModel } from "../store";
import { useKept } from "../kept";
import { NumberField, Wish, short } from "../outputs/parts";

const skills = ["practised", "fair", "first time"];

/** last keeps what was found of each toy while other pages are looked at. */
const last = new Map<string, BuildsPage>();

export function Builds({ job }: { job: JobArgs | null }) {
  const file = job?.file ?? "";
  const [skill, setSkill] = useKept("skill", "fair");
  const [many, setMany] = useKept("builds", 1000);
  const [found, setFound] = useState<BuildsPage | null>(last.get(file) ?? null);
  const [working, setWorking] = useState(false);
  const [ended, setEnded] = useState("");
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
    setWorking(true);
    setEnded("");
    try {
      await builds({ ...job, skill, builds: many }, mine.signal, (e) => {
        if (e.found) {
          last.set(job.file, e.found);
          setFound(e.found);
        }
        if (e.fails) setEnded(e.fails);
        if (e.done) setEnded("All builds are made.");
      });
    } catch (e) {
      if (!mine.signal.aborted) trouble(e);
    }
    if (running.current === mine) setWorking(false);
  };
  const stop = () => {
    running.current?.abort();
    running.current = null;
    setWorking(false);
    setEnded("Stopped; this is what was found until then.");
  };
  return (
    <section aria-labelledby="builds-head" aria-busy={working}>
      <h1 id="builds-head">Built by others</h1>
      <p class="quiet">Each build is off a little: saw, drill, stock and glue. How much is common practice, without a source, unless the shop above has measured its own.</p>
      <div class="row asks">
        <Wish name="Builders">
          <select value={skill} onChange={(e) => setSkill((e.target as HTMLSelectElement).value)}>
            {skills.map((s) => <option key={s} value={s}>{s}</option>)}
          </select>
        </Wish>
        <NumberField name="Builds" value={many} set={setMany} min={1} max={10000} />
        {working ? <button class="main" onClick={stop}>Stop</button> : <button class="main" disabled={!job} onClick={begin}>Build</button>}
        {working && <progress max={many} value={found?.whole === false ? found.builds : 0} aria-label="Builds looked at" />}
      </div>
      <p role="status" class="standing">{working ? "Building …" : ended}</p>
      {found && <Found found={found} />}
    </section>
  );
}

function Found({ found }: { found: BuildsPage }) {
  const now = useModel((m) => m.open?.state?.hash ?? "");
  return (
    <div class={found.hash !== now ? "stale" : ""}>
      {found.hash !== now && <p class="standing bad" role="status">These builds are of an earlier text ({short(found.hash)}): build again.</p>}
      <p><strong>It {found.says}.</strong></p>
      <Bar share={found.works} says={"Works in " + percent(found.works.of)} />
      {found.loosen && <p><strong>Loosen first:</strong> {found.loosen}</p>}
      {found.things.length > 0 && <>
        <h2>What fails</h2>
        <div class="scroll" tabIndex={0} role="group" aria-label="Table: what fails">
          <table>
            <thead><tr><th scope="col">What</th><th scope="col">In so many builds</th><th scope="col">Its spread comes from</th></tr></thead>
            <tbody>{found.things.map((t) => (
              <tr key={t.id}>
                <td>{t.check}: {t.about}</td>
                <td><Bar share={t.fails} says={`${percent(t.fails.of)} (${percent(t.fails.low)} to ${percent(t.fails.high)})`} /></td>
                <td>{t.says}</td>
              </tr>
            ))}</tbody>
          </table>
        </div>
      </>}
      {found.care.length > 0 && <><h2>Take care here</h2><ol>{found.care.map((c) => <li key={c}>{c}</li>)}</ol></>}
      <details><summary>What builders are off by</summary><ul>{found.spreads.map((s) => <li key={s}>{s}</li>)}</ul></details>
      <p class="quiet">This is screening: nothing here promises that a build works.</p>
    </div>
  );
}

/** Bar is a share as a length, with the interval that it lies in as a bracket, and in words. */
function Bar({ share, says }: { share: ShareShown; says: string }) {
  const x = (v: number) => `${(100 * v).toFixed(1)}%`;
  return (
    <span class="share">
      <svg aria-hidden="true" width="100%" height="14" preserveAspectRatio="none">
        <rect class="whole" x="0" y="2" width="100%" height="10" />
        <rect class="part" x="0" y="2" width={x(share.of)} height="10" />
        <line x1={x(share.low)} x2={x(share.high)} y1="7" y2="7" />
        <line x1={x(share.low)} x2={x(share.low)} y1="1" y2="13" />
        <line x1={x(share.high)} x2={x(share.high)} y1="1" y2="13" />
      </svg>
      <span>{says}</span>
    </span>
  );
}

function percent(x: number): string {
  const p = 100 * x;
  return (p > 0 && p < 1) || (p > 99 && p < 100) ? p.toFixed(1) + "\u00a0%" : p.toFixed(0) + "\u00a0%";
}
