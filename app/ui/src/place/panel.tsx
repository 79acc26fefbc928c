// How the pieces are put together: all of the build in its order beside the whole toy, and beside a
// part the steps that use it.

import { useEffect, useState } from "preact/hooks";
import type { Build, Part, Toy } from "../protocol";
import { Hint } from "../hint";
import { change, dispatch, say, useModel } from "../store";
import { Add } from "./add";
import { follow, handle } from "../order";
import { why } from "./edits";
import { Trouble, Values } from "./step";

/** BuildOrder is the whole build, or the pieces of a glue-up, in order. */
export function BuildOrder({ toy, glueUp = "" }: { toy: Toy; glueUp?: string }) {
  const b = useModel((m) => m.open?.builds?.lists.find((l) => l.glueUp === glueUp) ?? null);
  if (!b) return null;
  const id = "build-" + (glueUp || "toy");
  return (
    <section aria-labelledby={id}>
      <h2 id={id}>{glueUp ? "Its pieces, in order" : "The build, in order"}</h2>
      {!glueUp && <OpenAStep />}
      <Steps toy={toy} b={b} which={b.steps.map((_, k) => k)} />
      <Add toy={toy} b={b} />
    </section>
  );
}

/** PlacePart is where each piece of a part goes. */
export function PlacePart({ toy, part }: { toy: Toy; part: Part }) {
  const lists = useModel((m) => m.open?.builds?.lists ?? none);
  const used = lists.flatMap((b) => {
    const which = b.steps.flatMap((s, k) => (s.part === part.name || s.words.some((w) => w.of === "discs" && w.items.includes(part.name)) ? [k] : []));
    return which.length > 0 ? [{ b, which }] : [];
  });
  return (
    <section aria-labelledby="place-head">
      <h2 id="place-head">Place</h2>
      {used.length > 0 && <OpenAStep />}
      {used.length === 0 && <p class="quiet">{part.name} is not put anywhere yet.</p>}
      {used.map(({ b, which }) => (
        <div key={b.path}>
          {b.glueUp && <p class="quiet">In the glue-up {b.glueUp}:</p>}
          <Steps key={part.path + b.path} toy={toy} b={b} which={which} open={used.length === 1 && which.length === 1} />
        </div>
      ))}
      {part.shape === "glue-up" && <BuildOrder toy={toy} glueUp={part.name} />}
    </section>
  );
}

/** OpenAStep goes once any step has been opened. */
function OpenAStep() {
  const opened = useModel((m) => m.opened);
  return <Hint id="place" done={opened}>Open a line to read and change where its piece sits, and what it is glued to.</Hint>;
}

const none: Build[] = [];

interface StepsProps {
  toy: Toy;
  b: Build;
  which: number[]; // of its steps
  open?: boolean;
}

function Steps({ toy, b, which, open }: StepsProps) {
  const [shown, show] = useState(open ? which[0] : -1);
  const [dragged, setDragged] = useState(-1);
  const count = b.steps.length;
  useEffect(() => {
    if (!open) show(-1); // what had the number before may be another step now
  }, [count]);
  return (
    <ol class="work build" start={which[0] + 1}>
      {which.map((k) => {
        const s = b.steps[k];
        if (!s) return null;
        const move = async (to: number) => {
          show(-1);
          if (await moveStep(b, k, to)) follow(b.path, k, to, count);
        };
        return (
          <li key={s.path} class={shown === k ? "on" : ""} draggable={shown !== k}
            onDragStart={() => setDragged(k)} onDragOver={(e) => e.preventDefault()}
            onDrop={(e) => { e.preventDefault(); if (dragged >= 0) void moveStep(b, dragged, k); setDragged(-1); }}>
            <div class="row">
              <button class="plain" aria-expanded={shown === k} onClick={() => { show(shown === k ? -1 : k); dispatch({ do: "opened" }); }}>{k + 1}. {s.says}</button>
              <span class="row end">
                <button id={handle(b.path, k, "up")} class="small" disabled={k === 0} aria-label={`Put ${s.ids[0]} earlier`} onClick={() => move(k - 1)}>↑</button>
                <button id={handle(b.path, k, "down")} class="small" disabled={k === count - 1} aria-label={`Put ${s.ids[0]} later`} onClick={() => move(k + 1)}>↓</button>
              </span>
            </div>
            {shown === k ? <Values toy={toy} b={b} k={k} /> : <Trouble step={s} />}
          </li>
        );
      })}
    </ol>
  );
}

/** moveStep puts a step at another place in the order, or says why that cannot be. */
async function moveStep(b: Build, k: number, to: number): Promise<boolean> {
  if (to === k) return false;
  const not = why(b, k, to);
  if (not) say(not);
  return !not && change([{ op: "move", path: `${b.path}[${k}]`, to: `[${to}]` }], "order of the build");
}
