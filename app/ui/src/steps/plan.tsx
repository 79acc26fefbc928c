// The plan: when what is done, by whom and why.

import type { JobArgs, PlanPage, PlanTask, Ways } from "../protocol";
import type { Answer } from "../outputs/ask";
import { Download, show, Standing, usePicture, wishOf } from "../outputs/parts";

export function Plan({ job, ways, count, answer, stem }: { job: JobArgs | null; ways: Ways; count: number; answer: Answer<PlanPage>; stem: string }) {
  const p = answer.value;
  const chart = usePicture(p?.chart ?? null);
  return (
    <section class="plan" aria-labelledby="plan-head" aria-busy={answer.asking}>
      <header>
        <h1 id="plan-head" tabIndex={-1}>Plan</h1>
        <span class="row">
          <Download job={job} wish={wishOf("plan", "pdf", { count, ways })} name={stem + "-plan.pdf"}>Plan (PDF)</Download>
          <Download job={job} wish={wishOf("plan", "svg", { count, ways })} name={stem + "-plan.svg"}>Plan (SVG)</Download>
        </span>
      </header>
      <Standing hash={p?.hash} asking={answer.asking} fails={answer.fails} what="The plan" />
      {p && <>
        <dl class="figures">
          <div><dt>from start to end</dt><dd>{p.elapsed} h</dd></div>
          <div><dt>hands on</dt><dd>{p.handsOn} h</dd></div>
          {p.hands.length > 1 && p.hands.map((h) => <div key={h.name}><dt>{h.name}{h.years > 0 && !h.name.includes(String(h.years)) ? `, ${h.years}` : ""}</dt><dd>{h.handsOn} h</dd></div>)}
          {p.sessions > 1 && <div><dt>sessions</dt><dd>{p.sessions}</dd></div>}
        </dl>
        <ul class="quiet">{p.sums.map((s) => <li key={s}>{s}</li>)}<li>{ways.session ? "Hands rest between sessions." : "The hours run on without a night: choose how long is worked in one go to plan in sessions."}</li></ul>
        <Tasks p={p} />
        <h2>Who may do what, and why</h2>
        <ul class="whys">{p.who.map((w) => <li key={w.says}>{w.says}{w.source && <small class="quiet"> ({w.source})</small>}</li>)}</ul>
        {p.advice.length > 0 && <><h2>In one go</h2><ul>{p.advice.map((a) => <li key={a}>{a}</li>)}</ul></>}
        <h2>Notes</h2>
        <ul class="quiet">{p.notes.map((n) => <li key={n}>{n}</li>)}</ul>
        {chart && <details class="chart" open>
          <summary>Chart</summary>
          <img src={chart} alt="The plan as bars along time: hands, tools, and what waits. The table says the same." />
        </details>}
      </>}
    </section>
  );
}

function Tasks({ p }: { p: PlanPage }) {
  return (
    <div class="scroll" tabIndex={0} role="group" aria-label="Tasks">
      <table>
        <thead><tr><th scope="col">from</th><th scope="col">until</th><th scope="col">step</th><th scope="col">who</th><th scope="col">what</th></tr></thead>
        <tbody>
          {p.tasks.map((t, i) => <>
            {t.day > 0 && t.hands && t.day !== day(p.tasks, i) && <tr key={"day" + i}><th colSpan={5} scope="rowgroup">Day {t.day}</th></tr>}
            <tr key={i} class={t.hands ? "" : "waits"}>
              <td class="counts">{t.begin}</td><td class="counts">{t.until}</td>
              <td>{t.step < 0 ? t.place : <button class="small" onClick={() => show("step-" + t.step)} aria-label={t.step ? `To step ${t.step}` : "To the check"}>{t.place}</button>}</td>
              <td title={t.why}>{t.hands || "(wait)"}</td>
              <td>{t.says}{t.with && <span class="quiet"> [{t.with}]</span>}{t.then && <span class="quiet">; then wait until {t.then}</span>}</td>
            </tr>
          </>)}
        </tbody>
      </table>
    </div>
  );
}

/** day is that of the task with hands before the i-th; 0: there is none. */
function day(tasks: PlanTask[], i: number): number {
  for (let k = i - 1; k >= 0; k--) if (tasks[k].hands) return tasks[k].day;
  return 0;
}
