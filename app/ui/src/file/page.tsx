// The file: the toy's text itself, for those who like to write it.

import { useEffect, useRef, useState } from "preact/hooks";
import { call, Refused } from "../call";
import { routeOf } from "../route";
import { now, redo, took, trouble, undo, useModel, watch } from "../store";
import { Editor, words } from "./editor";
import { Find } from "./find";
import { forgetLeft, keepLeft, takeLeft } from "./kept";
import type { Schema } from "./schema";
import { Sync, type Send } from "./sync";

// One window's spells of typing are not another's.
const own = "typing " + Math.random().toString(36).slice(2) + " ";

const send: Send = async (base, text, group) => {
  try {
    const state = await call("change", { file: base.file, base: base.hash, edits: [], text, intent: "typing in the file", group });
    took(state);
    return { now: state };
  } catch (e) {
    if (e instanceof Refused && e.state) return { now: e.state };
    if (!(e instanceof Refused) || e.status !== 0) trouble(e); // a program that is gone is said already
    return { later: true };
  }
};

let schema: Schema | null = null;

async function readSchema(): Promise<Schema> {
  return (schema ??= JSON.parse((await call("schema", {})).text) as Schema);
}

export function FilePage() {
  const place = useRef<HTMLDivElement>(null);
  const editor = useRef<Editor | null>(null);
  const sync = useRef<Sync | null>(null);
  const field = useRef<HTMLInputElement>(null);
  const [says, setSays] = useState("");
  const [, redraw] = useState(0);
  const file = useModel((m) => m.open?.file ?? "");
  const problems = useModel((m) => m.open?.state?.problems ?? null) ?? [];
  const sizes = useModel((m) => m.open?.toy?.sizes ?? null);

  useEffect(() => {
    const after = (f: () => Promise<void>) => void s.flush().then(f);
    const e = new Editor(place.current!, file, { schema, sizes: [] }, {
      typed: () => s.typed(), moved: setSays, undo: () => after(undo), redo: () => after(redo), find: () => field.current?.select(), // at once: the next keys are for it
    });
    const s: Sync = new Sync(e, send, () => redraw((n) => n + 1), own);
    editor.current = e;
    sync.current = s;
    let begun = false;
    const look = () => {
      const state = now().open?.state;
      if (!state || (!begun && state.file !== routeOf(location.hash).file)) return; // that is of the toy before
      s.came(state);
      if (!begun) e.goTo(1, 1);
      const left = begun ? null : takeLeft(state.file);
      if (left) s.restore(left);
      begun = true;
    };
    look();
    const stop = watch(look);
    const leave = () => void s.flush();
    const unload = (e: BeforeUnloadEvent) => {
      const left = s.left;
      if (!left) return;
      keepLeft(s.file, left);
      e.preventDefault(); // which asks whether to go
    };
    addEventListener("visibilitychange", leave);
    addEventListener("beforeunload", unload);
    readSchema().then((x) => e.knows({ schema: x, sizes: now().open?.toy?.sizes.map((z) => z.name) ?? [] }), trouble);
    return () => {
      stop();
      removeEventListener("visibilitychange", leave);
      removeEventListener("beforeunload", unload);
      const left = s.left, of = s.file;
      if (left) keepLeft(of, left);
      void s.end().then((all) => all && left && forgetLeft(of, left));
      e.end();
    };
  }, []);
  useEffect(() => editor.current?.problems(problems), [problems]);
  useEffect(() => editor.current?.knows({ schema, sizes: sizes?.map((z) => z.name) ?? [] }), [sizes]);

  const conflict = sync.current?.conflict;
  return (
    <div class="two">
      <section class="file-pane" aria-labelledby="file-head">
        <div class="row file-head">
          <h1 id="file-head">{file}</h1>
          <Find editor={() => editor.current} field={field} />
        </div>
        {conflict && (
          <div class="notice bad" role="alert">
            <p>These lines were changed elsewhere while you typed. What you typed is still here; undo leads to the other text, whichever stays.</p>
            <p class="row">
              <button onClick={() => void sync.current?.choose(true)}>Keep what I typed</button>
              <button onClick={() => void sync.current?.choose(false)}>Take the other text</button>
            </p>
          </div>
        )}
        <div class="file-text" ref={place} />
      </section>
      <aside class="side" aria-label="Help with the file">
        <section aria-labelledby="file-problems">
          <h2 id="file-problems">{problems.length === 0 ? "The file can be read" : "The file cannot be read as it is now"}</h2>
          <div role="status"><ul class="file-problems">
            {problems.map((p, i) => (
              <li key={i}><button class="plain" onClick={() => editor.current?.goTo(p.line, p.col)}>{p.line > 0 && <b>line {p.line}: </b>}{words(p)}</button></li>
            ))}
          </ul></div>
        </section>
        <section aria-labelledby="file-help">
          <h2 id="file-help">At the cursor</h2>
          <p>{says || "Put the cursor on a key, and it is explained here."}</p>
          <p class="quiet" id="file-help-keys">What is typed is saved by itself. Ctrl and Space offers what may stand at the cursor. Tab moves lines in; Escape, then Tab leaves the text.</p>
        </section>
      </aside>
    </div>
  );
}
