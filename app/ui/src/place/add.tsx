// What is added to the build: a part again, a glue-up, wheels on a hole, a peg, a hinge.

import { useState } from "preact/hooks";
import type { Build, Edit, Toy } from "../protocol";
import { freeName } from "../draw/edits";
import { wheelEdits } from "../draw/wheels";
import { change } from "../store";
import { dowelFor, holesOf, put } from "./edits";
import { Choice } from "./sits";

const kinds = [["put", "a part or glue-up"], ["wheels", "wheels on a hole"], ["peg", "a peg in a hole"], ["hinge", "a hinge on two holes"]] as const;

type Kind = (typeof kinds)[number][0];

export function Add({ toy, b }: { toy: Toy; b: Build }) {
  const holes = holesOf(b), glueUp = b.glueUp !== "";
  const parts = toy.parts.filter((p) => p.shape !== "rod" && !(glueUp && p.shape === "glue-up")).map((p) => p.name);
  const [open, setOpen] = useState(false);
  const [kind, setKind] = useState<Kind>("put");
  const [part, setPart] = useState("");
  const [at, setAt] = useState("");
  const [runs, setRuns] = useState("");
  if (!open) return <button onClick={() => setOpen(true)}>Add to {glueUp ? "the glue-up" : "the build"}</button>;
  const chosen = parts.includes(part) ? part : parts[0];
  const hole = holes.includes(at) ? at : holes[0];
  const turning = holes.includes(runs) ? runs : (holes.find((h) => h !== hole) ?? "");
  const needs = kind === "put" ? (chosen ? "" : "There is no part to put.") : !hole ? "There is no hole with a name yet: drill one in a part first." : kind === "hinge" && !turning ? "A hinge takes two holes." : "";
  const make = async (e: Event) => {
    e.preventDefault();
    if (!needs && (await change(editsOf(toy, b, kind, chosen, hole, turning), "add " + kinds.find((k) => k[0] === kind)![1]))) setOpen(false);
  };
  return (
    <form class="naming" onSubmit={make}>
      {!glueUp && <label>Add <Choice name="what is added" value={kind} options={kinds.map((k) => k[0])} says={(k) => kinds.find((x) => x[0] === k)![1]} set={(k) => setKind(k as Kind)} /></label>}
      {kind === "put" ? <label>Which <Choice name="part" value={chosen ?? ""} options={parts} set={setPart} /></label> : <label>{kind === "hinge" ? "Pin glued in" : "In"} <Choice name="hole" value={hole ?? ""} options={holes} set={setAt} /></label>}
      {kind === "hinge" && <label>Turns in <Choice name="hole that turns" value={turning} options={holes} set={setRuns} /></label>}
      {needs && <p class="bad" role="status">{needs}</p>}
      <span class="row"><button class="main" type="submit" disabled={needs !== ""}>Add it</button><button type="button" onClick={() => setOpen(false)}>Not now</button></span>
    </form>
  );
}

function editsOf(toy: Toy, b: Build, kind: Kind, part: string, hole: string, runs: string): Edit[] {
  switch (kind) {
    case "put":
      return put(b, part);
    case "wheels":
      return wheelEdits({ units: toy.units }, hole);
    case "peg": {
      const { part: use, edits } = dowelFor(toy, "peg");
      return [...edits, { op: "insert", path: "build[+]", value: `{peg: {use: ${use}, in: ${hole}}}`, as: "yaml" }];
    }
    case "hinge": {
      const { part: pin, edits } = dowelFor(toy, "pin");
      const name = freeName("hinge", b.steps.flatMap((s) => s.fields.filter((f) => f.name === "name").map((f) => f.text)));
      return [...edits, { op: "insert", path: "build[+]", value: `{hinge: {name: ${name}, pin: ${pin}, fixed: ${hole}, runs: ${runs}}}`, as: "yaml" }];
    }
  }
}
