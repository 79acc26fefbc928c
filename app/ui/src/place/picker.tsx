// Placing by faces: two are picked in the picture, and one brought to the other.

import { useState } from "preact/hooks";
import { FieldInput } from "../draw/field";
import { change, useModel } from "../store";
import { useHand } from "../units";
import { some } from "./edits";
import { faceOf, placing, type Hit, type How } from "./pick";

const hows: [How, string][] = [["flush", "Bring together, flush"], ["centred", "Centre one on the other"], ["back", "Set back by"]];

interface Props {
  hits: Hit[]; // that were picked, the last two count
  clear: () => void;
}

export function Picker({ hits, clear }: Props) {
  const b = useModel((m) => m.open?.builds?.lists[0] ?? null);
  const hand = useHand();
  const [typed, setTyped] = useState("");
  if (!b) return null;
  const by = typed || some(hand);
  const faces = hits.slice(-2).map((h) => faceOf(b.seats, h));
  const [one, two] = faces;
  const both = one && two && typeof one !== "string" && typeof two !== "string";
  const says = both ? placing(b, one, two, "flush", "") : "";
  return (
    <section class="picker" aria-labelledby="picker-head">
      <h2 id="picker-head">Place by faces</h2>
      <div role="status">
        {faces.length === 0 && <p class="quiet">Click a face of the piece that is to move, then the face that it goes to.</p>}
        {faces.map((f, i) => <p key={i} class={typeof f === "string" ? "bad" : ""}>{i + 1}. {typeof f === "string" ? f : `${f.feature} of ${f.seat.id}`}</p>)}
        {faces.length === 1 && typeof one !== "string" && <p class="quiet">Now the face that it goes to.</p>}
        {typeof says === "string" ? says && <p class="bad">{says}</p> : <p class="quiet">{says.moves} moves, since it comes later in the build.</p>}
      </div>
      {both && typeof says !== "string" && (
        <div class="row">
          {hows.map(([how, name]) => (
            <button key={how} class="small" onClick={async () => {
              const p = placing(b, one, two, how, by);
              if (typeof p !== "string" && (await change(p.edits, "place " + p.moves))) clear();
            }}>{name}</button>
          ))}
          <FieldInput name="" text={by} width="4.5rem" set={async (t) => (setTyped(t), true)} />
        </div>
      )}
      {hits.length > 0 && <button class="small" onClick={clear}>Let go of both</button>}
    </section>
  );
}
