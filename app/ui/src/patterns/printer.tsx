// A printer that is out of true: what the check bars measured on paper is typed in, and all is
// printed that much larger or smaller.

import { useState } from "preact/hooks";
import type { Print } from "../protocol";
import { Wish } from "../outputs/parts";

/** What a bar of 100 mm can measure, in mm: beyond it the printer is set to another size. */
const least = 90, most = 110;

export function Printer({ print, set }: { print: Print; set: (p: Print) => void }) {
  const corrected = print.correctX !== 0 || print.correctY !== 0;
  return (
    <section class="printer" aria-labelledby="printer-head">
      <h2 id="printer-head">Your printer</h2>
      <p>Print a page at 100 %, without fitting it to the paper. Then measure its two bars of 100 mm, and type what they measure (of a page that was printed while nothing was corrected).</p>
      <div class="row">
        <Bar name="Across the page" least={least} most={most} value={print.correctX} set={(correctX) => set({ ...print, correctX })} />
        <Bar name="Up the page" least={least} most={most} value={print.correctY} set={(correctY) => set({ ...print, correctY })} />
      </div>
      <p role="status">{corrected
        ? <>All is drawn {share(print.correctX)} as long across and {share(print.correctY)} up, so that it comes out true. <button class="small" onClick={() => set({ ...print, correctX: 0, correctY: 0 })}>The printer is true</button></>
        : "Nothing is corrected."}</p>
    </section>
  );
}

/** share is how much longer something is drawn, in words. */
function share(measured: number): string {
  return (measured === 0 ? 100 : (100 / measured) * 100).toFixed(2) + " %";
}

/** Bar takes in what a bar of 100 mm measures; 0: 100 mm, or not measured. */
export function Bar({ name, value, set, least, most }: { name: string; value: number; set: (mm: number) => void; least: number; most: number }) {
  const [typed, type] = useState<string | null>(null);
  const [wrong, setWrong] = useState("");
  const done = () => {
    if (typed === null) return;
    const text = typed.trim().replace(",", ".").replace(/\s*mm$/, "");
    const mm = text === "" ? 0 : +text;
    if (text !== "" && !(mm >= least && mm <= most)) return setWrong(`expected from ${least} to ${most} mm`);
    setWrong("");
    type(null);
    set(mm === 100 ? 0 : mm);
  };
  return (
    <Wish name={name} says={wrong}>
      <span class="row"><input
        size={6} inputMode="decimal" autocomplete="off" aria-invalid={wrong !== ""} placeholder="100" value={typed ?? (value === 0 ? "" : String(value))}
        onInput={(e) => type((e.target as HTMLInputElement).value)} onBlur={done} onKeyDown={(e) => e.key === "Enter" && done()}
      /> mm</span>
    </Wish>
  );
}
