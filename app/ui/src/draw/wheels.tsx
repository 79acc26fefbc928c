// Wheels on a hole: an axle through it with a wheel at each end. What they are made of is made too
// where the toy has none.

import type { Edit, Hole } from "../protocol";
import { change, now } from "../store";
import type { Drawing } from "./state";

export function WheelsHere({ d, hole }: { d: Drawing; hole: Hole }) {
  const piece = d.part.pieces[0];
  if (!piece || d.part.shape === "glue-up") return null;
  return <button class="small" onClick={() => change(wheelEdits({ units: d.hand.own }, `${piece}.${hole.name}`), "wheels on " + hole.name)}>Put wheels on this hole</button>;
}

/** wheelEdits are the edits that put an axle with two wheels into a hole of a piece. */
export function wheelEdits(d: { units: string }, hole: string): Edit[] {
  const toy = now().open!.toy!;
  const edits: Edit[] = [];
  const inch = d.units === "inch";
  let wheel = toy.parts.find((p) => p.shape === "disc")?.name;
  let axle = toy.parts.find((p) => p.shape === "rod")?.name;
  const rod = toy.stock.find((s) => s.form === "dowel");
  const board = toy.stock.find((s) => s.form === "board" && s.size < 13) ?? toy.stock.find((s) => s.form === "board");
  let rodName = rod?.name;
  if (!axle && !rodName) {
    rodName = "rod";
    edits.push({ op: "insert", path: "stock.rod", value: `{wood: birch, form: dowel, dia: ${inch ? "1/4" : "6"}}`, as: "yaml" });
  }
  if (!axle) {
    axle = "axle";
    edits.push({ op: "insert", path: "parts.axle", value: `{from: ${rodName}}`, as: "yaml" });
  }
  if (!wheel) {
    wheel = "wheel";
    edits.push({ op: "insert", path: "parts.wheel", value: `{from: ${board?.name ?? "board"}, disc: ${inch ? "1 1/4" : "32"}, bore: ${rod?.text ?? (inch ? "1/4" : "6")}, made: sawn}`, as: "yaml" });
  }
  edits.push({ op: "insert", path: "build[+]", value: `{wheels: {in: ${hole}, axle: ${axle}, outward: [${wheel}], play: ${inch ? "1/32" : "1"}, proud: ${inch ? "1/8" : "3"}}}`, as: "yaml" });
  return edits;
}
