// Comparing: what changed from an older edition, for who has built it.

import { useState } from "preact/hooks";
import type { ComparePage, JobArgs } from "../protocol";
import { call } from "../call";
import { trouble, useModel } from "../store";
import { Wish, short, usePicture } from "../outputs/parts";

export function Compare({ job }: { job: JobArgs | null }) {
  const toys = useModel((m) => m.shelf?.toys ?? []);
  const [older, setOlder] = useState("");
  const [found, setFound] = useState<ComparePage | null>(null);
  const [working, setWorking] = useState(false);
  const now = useModel((m) => m.open?.state?.hash ?? "");
  const at = usePicture(found?.svg ?? null);
  const others = toys.filter((t) => t.file !== job?.file);
  const compare = async (e: Event) => {
    e.preventDefault();
    if (!job || !older) return;
    setWorking(true);
    try {
      setFound(await call("compare", { ...job, with: older }));
    } catch (err) {
      trouble(err);
    }
    setWorking(false);
  };
  return (
    <section aria-labelledby="compare-head" aria-busy={working}>
      <h1 id="compare-head">Since an older edition</h1>
      <p class="quiet">For who has built the older one: what to make anew, what can be cut from the old piece, what serves as it is.</p>
      <form class="asks row" onSubmit={compare} aria-label="The older edition">
        <Wish name="The older one" says={others.length === 0 ? "put its file in this folder" : ""}>
          <select value={older} onChange={(e) => setOlder((e.target as HTMLSelectElement).value)}>
            <option value="">choose a toy of the folder</option>
            {others.map((t) => <option key={t.file} value={t.file}>{t.name} ({t.file})</option>)}
          </select>
        </Wish>
        <button class="main" disabled={!job || !older || working}>Compare</button>
      </form>
      <p role="status" class="standing">{working ? "Comparing …" : found ? "Compared with " + found.with + "." : ""}</p>
      {found && <div class={found.hash !== now ? "stale" : ""}>
        {found.hash !== now && <p class="standing bad">This is of an earlier text ({short(found.hash)}): compare again.</p>}
        <pre class="report" tabIndex={0} aria-label="What changed">{found.says}</pre>
        {at && <figure class="leaf wide"><img src={at} alt="The changed parts, the old outline dashed and the new one solid" /></figure>}
      </div>}
    </section>
  );
}
