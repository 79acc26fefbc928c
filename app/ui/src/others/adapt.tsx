// Adapting: the toy for other stock, another size or other units, kept as a toy of its own.

import { useState } from "preact/hooks";
import type { AdaptPage, JobArgs } from "../protocol";
import { call } from "../call";
import { go } from "../route";
import { say, trouble, useModel } from "../store";
import { Wish, short } from "../outputs/parts";

export function Adapt({ job }: { job: JobArgs | null }) {
  const [stock, setStock] = useState("");
  const [dowel, setDowel] = useState("");
  const [wheel, setWheel] = useState("");
  const [units, setUnits] = useState("");
  const [scale, setScale] = useState("");
  const [mend, setMend] = useState(true);
  const [made, setMade] = useState<AdaptPage | null>(null);
  const [working, setWorking] = useState(false);
  const [wrong, setWrong] = useState("");
  const name = useModel((m) => m.open?.toy?.name ?? "");
  const now = useModel((m) => m.open?.state?.hash ?? "");
  const asked = [stock, dowel, wheel, units, scale].some((s) => s.trim() !== "");
  const times = scale.trim() === "" ? 0 : Number(scale.replace(",", "."));
  const adapt = async (e: Event) => {
    e.preventDefault();
    if (!job) return;
    if (Number.isNaN(times)) return setWrong("Times larger: a number, as 1.25");
    setWorking(true);
    setWrong("");
    try {
      setMade(await call("adapt", { ...job, wish: { stock: stock.trim(), dowel: dowel.trim(), wheel: wheel.trim(), units, scale: times, mend } }));
    } catch (err) {
      setWrong((err as Error).message);
    }
    setWorking(false);
  };
  const keep = async () => {
    if (!made) return;
    try {
      const at = await call("create", { name: name + " adapted", text: made.text, inch: false, axles: 0, hitched: false, length: "", board: "", dowel: "" });
      say("Kept as " + at.file);
      go({ file: at.file, page: "dry-fit" });
    } catch (err) {
      trouble(err);
    }
  };
  const text = (label: string, value: string, set: (s: string) => void, says: string) => (
    <Wish name={label} says={says}><input value={value} onInput={(e) => set((e.target as HTMLInputElement).value)} /></Wish>
  );
  return (
    <section aria-labelledby="adapt-head" aria-busy={working}>
      <h1 id="adapt-head">For other stock</h1>
      <p class="quiet">The same toy for what others have. What is left empty stays; this toy stays as it is.</p>
      <form class="asks row" onSubmit={adapt} aria-label="What others have">
        {text("Boards", stock, setStock, "as beech=18mm, several parted by spaces")}
        {text("Dowel", dowel, setDowel, "as 6mm")}
        {text("Wheel", wheel, setWheel, "as 32mm")}
        {text("Times larger", scale, setScale, "as 1.25")}
        <Wish name="Written in">
          <select value={units} onChange={(e) => setUnits((e.target as HTMLSelectElement).value)}>
            <option value="">as it is</option>
            <option value="inch">inches</option>
            <option value="mm">millimetres</option>
          </select>
        </Wish>
        <label class="check"><input type="checkbox" checked={mend} onChange={(e) => setMend((e.target as HTMLInputElement).checked)} /> Mend what no longer holds</label>
        <button class="main" disabled={!job || !asked || working}>Adapt</button>
      </form>
      <p role="status" class={"standing" + (wrong ? " bad" : "")}>{working ? "Adapting …" : wrong || (made ? (made.holds ? "✓ It holds as adapted." : "✗ Something no longer holds: see below.") : "")}</p>
      {made && <div class={made.hash !== now ? "stale" : ""}>
        {made.hash !== now && <p class="standing bad">This is made of an earlier text ({short(made.hash)}): adapt it again.</p>}
        <pre class="report" tabIndex={0} aria-label="What changes">{made.says}</pre>
        <button onClick={keep}>Keep as a toy of its own</button>
      </div>}
    </section>
  );
}
