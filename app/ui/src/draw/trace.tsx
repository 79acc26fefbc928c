// Outlines out of a drawing: an SVG or a PDF of lines, made with whatever one draws with.

import { useState } from "preact/hooks";
import type { Traces } from "../protocol";
import { call } from "../call";
import { trouble } from "../store";
import { addWork } from "./edits";
import { shown } from "./lengths";
import type { Drawing } from "./state";
import { shopWords, sideNames } from "./views";

export function FromDrawing({ d }: { d: Drawing }) {
  const [found, setFound] = useState<Traces | null>(null);
  const [units, setUnits] = useState("");
  const [side, setSide] = useState(d.sides[0]);
  const read = async (input: HTMLInputElement) => {
    const file = input.files?.[0];
    input.value = ""; // so that the same one can be read again
    if (!file) return;
    try {
      const bytes = new Uint8Array(await file.arrayBuffer());
      let text = "";
      for (let i = 0; i < bytes.length; i += 0x8000) text += String.fromCharCode(...bytes.subarray(i, i + 0x8000));
      setFound(await call("trace", { drawing: btoa(text), units, as: d.hand.own }));
    } catch (e) {
      trouble(e);
    }
  };
  const take = async (kind: string, says: string) => {
    if (await addWork(d.part, kind, `{side: ${shopWords[side]}, outline: ${says}}`)) setFound(null);
  };
  return (
    <details class="trace">
      <summary>Outlines from a drawing</summary>
      <div class="row">
        <label class="file">An SVG, or a PDF of lines <input type="file" accept=".svg,.pdf,image/svg+xml,application/pdf" onChange={(e) => read(e.target as HTMLInputElement)} /></label>
        <label>One unit of it is <select value={units} onChange={(e) => setUnits((e.target as HTMLSelectElement).value)}>
          <option value="">as it says</option><option value="mm">1 mm</option><option value="inch">1 in</option><option value="px">1/96 in</option>
        </select></label>
        <label>on the <select value={side} onChange={(e) => setSide((e.target as HTMLSelectElement).value as typeof side)}>{d.sides.map((s) => <option key={s} value={s}>{sideNames[s].toLowerCase()}</option>)}</select></label>
      </div>
      {found && (
        <ul>
          {found.lines.map((l, i) => (
            <li key={i} class="row">
              <span>{l.name}: {shown(l.width, d.hand.hand)} × {shown(l.height, d.hand.hand)}{l.holder && ", in " + l.holder}</span>
              <button class="small" onClick={() => take("saw", l.says)}>Saw along it</button>
              <button class="small" onClick={() => take("cut-out", l.says)}>Cut it out</button>
            </li>
          ))}
          {found.notes.map((n, i) => <li key={"n" + i} class="quiet">{n}</li>)}
        </ul>
      )}
    </details>
  );
}
