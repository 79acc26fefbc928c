// The toy as a whole: what its file says at the top.

import { useEffect, useState } from "preact/hooks";
import type { Field, Toy } from "../protocol";
import { change, say } from "../store";
import { FieldInput } from "./field";

const names: Record<string, string> = { toy: "name", ease: "eased by" };

/** usual is what holds where the file says nothing. */
const usual: Record<string, string> = { ages: "3 and up", edition: "not published yet" };

export function About({ toy }: { toy: Toy }) {
  return (
    <section aria-labelledby="about-head">
      <h2 id="about-head">The toy</h2>
      {toy.about.map((f) => f.name === "note"
        ? <Note key={f.path} f={f} />
        : <FieldInput key={f.path} name={names[f.name] ?? f.name} text={f.text} said={f.said} mm={f.mm} plain={f.plain} says={f.text ? "" : usual[f.name]} width="9rem" set={(t) => set(f, t)} />)}
      <p class="quiet">Its file is written in {toy.units === "inch" ? "inches" : "millimetres"}.</p>
    </section>
  );
}

/** set writes a value; what was not said yet goes before the stock, with the others. */
function set(f: Field, text: string): Promise<boolean> {
  if (text === f.text) return Promise.resolve(true);
  const intent = `${names[f.name] ?? f.name}${text && text.length < 40 ? " " + text : ""} of the toy`;
  if (text) return change([f.text ? { op: "set", path: f.path, value: text, as: "text" } : { op: "insert", path: f.path, value: text, as: "text", to: "stock" }], intent);
  if (f.name === "toy") {
    say("A toy has to have a name.");
    return Promise.resolve(false);
  }
  return change([{ op: "remove", path: f.path }], intent);
}

function Note({ f }: { f: Field }) {
  const [typed, type] = useState<string | null>(null);
  const own = f.text.replace(/\n$/, "");
  useEffect(() => type(null), [own]);
  const done = async (e: Event) => {
    const t = (e.target as HTMLTextAreaElement).value.trim();
    if (t === own || (await set(f, t))) type(null);
  };
  return (
    <label class="field note">
      <span>note</span>
      <textarea rows={3} value={typed ?? own} onInput={(e) => type((e.target as HTMLTextAreaElement).value)} onBlur={(e) => void done(e)} onKeyDown={(e) => e.key === "Escape" && type(null)} />
    </label>
  );
}
