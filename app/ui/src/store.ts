// What the pages show, in one place. It is never changed in place: dispatch takes a described
// change, and everything is drawn again from the result.

import { useEffect, useState } from "preact/hooks";
import type { Builds, Edit, Event, Finding, Leg, NotAsked, Scene, Shelf, State, Toy } from "./protocol";
import { call, listen, Refused } from "./call";
import { keep, kept } from "./kept";

/** Proof is what has been found of one text so far. */
export interface Proof {
  hash: string;
  byCheck: Record<string, Finding[]>;
  quick: boolean; // all quick checks are made
  done: boolean;
  verdict: string;
  pieces: number;
  massKg: number;
  notAsked: NotAsked[];
}

/** Open is the toy that is worked on. */
export interface Open {
  file: string;
  state: State | null;
  toy: Toy | null;
  builds: Builds | null; // of the present text, even where its pieces do not stand yet
  proof: Proof | null; // of the present text, still growing
  before: Proof | null; // of the text before, shown until the present one's findings are there
  scene: Scene | null;
  apart: Leg[] | null;
}

export type There = "yes" | "no" | "anew";

export interface Model {
  shelf: Shelf | null;
  open: Open | null;
  /** What to look at: a finding's places, or parts that a size changes. */
  look: Look | null;
  says: Say | null;
  /** Whether the program is there: it may be gone, or another start that does not know this page. */
  there: There;
  /** What the user measures in: inch, mm, or "" as each toy is written. */
  units: string;
  /** Whether a step of the build has been opened. */
  opened: boolean;
}

export interface Look {
  finding?: string;
  parts?: string[];
}

/** Say is a line for the one at the screen; n tells two of the same words apart. */
export interface Say {
  text: string;
  trouble: boolean;
  n: number;
}

export type Change =
  | { do: "event"; event: Event }
  | { do: "open"; file: string | null }
  | { do: "look"; look: Look | null }
  | { do: "say"; text: string; trouble: boolean }
  | { do: "there"; there: There }
  | { do: "units"; units: string }
  | { do: "opened" };

const start: Model = { shelf: null, open: null, look: null, says: null, there: "yes", units: kept<string>("units", ""), opened: false };

let model = start;
const watchers = new Set<() => void>();
let said = 0;

export function now(): Model {
  return model;
}

export function dispatch(c: Change): void {
  const next = changed(model, c);
  if (next === model) return;
  model = next;
  if (c.do === "event") soon();
  else tell();
}

function tell(): void {
  for (const w of [...watchers]) w();
}

let waiting = false;

/** soon tells the watchers once for all events that come in before the next picture is drawn; a page
 * that is not seen has no pictures, and is told all the same. */
function soon(): void {
  if (waiting) return;
  waiting = true;
  const now = () => {
    if (!waiting) return;
    waiting = false;
    tell();
  };
  requestAnimationFrame(now);
  setTimeout(now, unseen);
}

const unseen = 100; // ms

/** watch calls back after every change, until the function that it returns is called. */
export function watch(f: () => void): () => void {
  watchers.add(f);
  return () => watchers.delete(f);
}

/** useModel draws a component again when what it picks is another. */
export function useModel<T>(pick: (m: Model) => T): T {
  const [value, set] = useState(() => pick(model));
  useEffect(() => {
    const look = () => set(() => pick(model));
    look();
    return watch(look);
  }, []);
  return value;
}

function changed(m: Model, c: Change): Model {
  switch (c.do) {
    case "open":
      return { ...m, look: null, open: c.file === null ? null : { file: c.file, state: null, toy: null, builds: null, proof: null, before: null, scene: null, apart: null } };
    case "look":
      return { ...m, look: c.look };
    case "say":
      return { ...m, says: c.text ? { text: c.text, trouble: c.trouble, n: ++said } : null };
    case "there":
      return m.there === c.there ? m : { ...m, there: c.there };
    case "opened":
      return m.opened ? m : { ...m, opened: true };
    case "units":
      return { ...m, units: c.units };
    case "event":
      return told(m, c.event);
  }
}

/** told takes in an event of the stream. What is of an earlier text than the present is left. */
export function told(m: Model, e: Event): Model {
  if (e.shelf) return { ...m, shelf: e.shelf };
  const o = m.open;
  if (!o) return m;
  if (e.state) return { ...m, open: { ...o, state: e.state, file: e.state.file } };
  if (e.builds) return { ...m, open: { ...o, builds: e.builds } };
  if (e.toy) {
    const before = o.proof && Object.keys(o.proof.byCheck).length > 0 && o.proof.done ? o.proof : o.before;
    return { ...m, open: { ...o, toy: e.toy, before, proof: emptyProof(e.toy.hash) } };
  }
  if (e.findings) {
    const f = e.findings;
    if (o.proof?.hash !== f.hash) return m;
    const byCheck = { ...o.proof.byCheck };
    for (const id of f.checks) byCheck[id] = f.findings.filter((x) => x.check === id);
    const proof = f.done ? { ...o.proof, byCheck, quick: true, done: true, verdict: f.verdict, pieces: f.pieces, massKg: f.massKg, notAsked: f.notAsked } : { ...o.proof, byCheck, quick: f.quick };
    return { ...m, open: { ...o, proof, before: f.done ? null : o.before } };
  }
  if (e.scene) {
    // The program sends a shape once; those that are still in use are kept from the scene before.
    const used = new Set(e.scene.pieces.map((p) => p.shape));
    const kept = (o.scene?.meshes ?? []).filter((x) => used.has(x.key) && !e.scene!.meshes.some((y) => y.key === x.key));
    return { ...m, open: { ...o, scene: { ...e.scene, meshes: [...kept, ...e.scene.meshes] }, apart: null } };
  }
  if (e.apart && e.apart.hash === o.scene?.hash) return { ...m, open: { ...o, apart: e.apart.legs } };
  return m;
}

function emptyProof(hash: string): Proof {
  return { hash, byCheck: {}, quick: false, done: false, verdict: "", pieces: 0, massKg: 0, notAsked: [] };
}

/** findingsOf is all that is known: of checks that are not made yet, what they found before. */
export function findingsOf(o: Open | null): Finding[] {
  const all = { ...o?.before?.byCheck, ...o?.proof?.byCheck };
  return Object.values(all).flat();
}

const worst = ["fails", "cannot tell", "mind", "waived", "holds"];

/** byWorst sorts findings, the worst first. */
export function byWorst(list: Finding[]): Finding[] {
  return [...list].sort((a, b) => worst.indexOf(a.verdict) - worst.indexOf(b.verdict));
}

export function say(text: string): void {
  dispatch({ do: "say", text, trouble: false });
}

export function trouble(e: unknown): void {
  dispatch({ do: "say", text: e instanceof Error ? e.message : String(e), trouble: true });
}

/** takeTrouble takes over what was refused last, to be said where it was asked for. */
export function takeTrouble(): string {
  const s = model.says;
  if (!s?.trouble) return "this was not taken";
  dispatch({ do: "say", text: "", trouble: false });
  return s.text;
}

/** hush takes away what was said last. */
export function hush(): void {
  if (model.says) dispatch({ do: "say", text: "", trouble: false });
}

let listening: AbortController | null = null;

/** unknown is the status of an answer to a page whose token is of another start. */
const unknown = 401;

/** again is how long the page waits before it asks a program that is gone, in ms. */
const again = 1000;

/** measureIn makes a unit the user's: all that is said of the toy is asked for anew in it. */
export function measureIn(units: string): void {
  keep("units", units);
  dispatch({ do: "units", units });
  void follow(now().open?.file ?? null, true);
}

/** follow listens to a toy, or to the shelf alone, in place of what was listened to. What is shown
 * already may stay until there is something newer. */
export async function follow(file: string | null, stay = false): Promise<void> {
  listening?.abort();
  const mine = new AbortController();
  listening = mine;
  if (!stay) dispatch({ do: "open", file });
  while (!mine.signal.aborted) {
    try {
      let first = !stay;
      stay = false;
      await listen(file ?? "", now().units, mine.signal, (event) => {
        if (mine.signal.aborted) return;
        if (first && file) dispatch({ do: "open", file: now().open?.file ?? file });
        first = false;
        dispatch({ do: "there", there: "yes" });
        dispatch({ do: "event", event });
      });
    } catch (e) {
      if (mine.signal.aborted) return;
      if (e instanceof Refused && e.status === unknown) {
        dispatch({ do: "there", there: "anew" });
        return;
      }
      if (e instanceof Refused && e.status !== 0) {
        trouble(e);
        return;
      }
    }
    dispatch({ do: "there", there: "no" });
    await new Promise((r) => setTimeout(r, again));
  }
}

/** change asks for edits of the open toy's file; intent is what undo calls them. It tells whether
 * they were made. */
export async function change(edits: Edit[], intent: string, group = ""): Promise<boolean> {
  const s = now().open?.state;
  return !!s && edits.length > 0 && made(call("change", { file: s.file, base: s.hash, edits, intent, group }));
}

/** rename gives a part, a size or the like another name, wherever the file speaks of it; what is its
 * kind and its name. */
export async function rename(what: string, to: string): Promise<boolean> {
  const file = now().open?.state?.file;
  return !!file && made(call("name", { file, what, to }));
}

/** made takes in what a change answers with, and tells whether it was made. */
async function made(answer: Promise<State>): Promise<boolean> {
  try {
    took(await answer);
    if (model.says?.trouble) hush(); // what was refused before is mended
    return true;
  } catch (e) {
    trouble(e);
    return false;
  }
}

/** took takes in the state that a call answered with, unless the stream had that or a later one. */
export function took(state: State): void {
  const o = now().open;
  if (o && o.file === state.file && (o.state?.n ?? 0) < state.n) dispatch({ do: "event", event: { state } });
}

export async function undo(): Promise<void> {
  await step("undo");
}

export async function redo(): Promise<void> {
  await step("redo");
}

/** nothingBefore says that undoing has come to its end, and whether that is the beginning. */
export function nothingBefore(lost: number): string {
  if (lost === 0) return "there is nothing to undo";
  return `undoing ends here: ${lost === 1 ? "the change" : `the ${lost} changes`} before this ${lost === 1 ? "is" : "are"} no longer kept`;
}

async function step(which: "undo" | "redo"): Promise<void> {
  const s = now().open?.state;
  if (!s) return; // whether there is anything to undo the program knows better: a key may be quicker than its answer
  try {
    const { state, done } = await call(which, { file: s.file });
    took(state);
    if (done) say((which === "undo" ? "undone: " : "done again: ") + done);
    else say(which === "undo" ? nothingBefore(state.lost) : "there is nothing to do again");
  } catch (e) {
    trouble(e);
  }
}
