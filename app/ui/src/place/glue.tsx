// Two pieces made into one: a glue-up, which then has work of its own.

import { useState } from "preact/hooks";
import { call } from "../call";
import type { Build, Toy } from "../protocol";
import { expected } from "../names";
import { now, say, took, trouble } from "../store";

export function GlueIntoOne({ toy, b, k }: { toy: Toy; b: Build; k: number }) {
  const step = b.steps[k], on = step.sits[0]?.piece;
  const under = b.steps.findIndex((s) => s.kind === "put" && s.ids[0] === on);
  const [name, setName] = useState(`${on}-and-${step.ids[0]}`.replace(/[^a-z0-9-]/gi, "-"));
  if (under < 0 || step.sits.some((s) => s.piece !== on) || [under, k].some((i) => !toy.parts.some((p) => p.name === b.steps[i].part && p.shape !== "glue-up"))) return null;
  const make = async (e: Event) => {
    e.preventDefault();
    const s = now().open?.state;
    if (!s) return;
    try {
      took(await call("glue", { file: s.file, base: s.hash, first: under, second: k, name }));
      say(`${name} is one piece now, and is drawn under Glue-ups`);
    } catch (x) {
      trouble(x);
    }
  };
  return (
    <details>
      <summary>Glue it and {on} into one piece</summary>
      <form class="row" onSubmit={make}>
        <label class="field"><span>called</span><input required pattern="[A-Za-z][A-Za-z0-9\-]*" title={expected} value={name} onInput={(e) => setName((e.target as HTMLInputElement).value)} /></label>
        <button class="small" type="submit">Make a glue-up</button>
      </form>
    </details>
  );
}
