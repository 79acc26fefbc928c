// What may stand where in a toy file, by its JSON Schema.

export interface Schema {
  $ref?: string;
  $defs?: Record<string, Schema>;
  description?: string;
  properties?: Record<string, Schema>;
  additionalProperties?: Schema | false;
  items?: Schema | false;
  prefixItems?: Schema[];
  anyOf?: Schema[];
  oneOf?: Schema[];
  enum?: unknown[];
  const?: unknown;
  type?: string | string[];
  required?: string[];
  minimum?: number;
  maximum?: number;
}

/** Place is where a cursor is: the keys that lead there ([] is an item of a list), and whether a key
 * or a value stands or would stand there. */
export interface Place {
  path: string[];
  at: "key" | "value";
  /** from is where the word at the cursor begins. */
  from: number;
}

export const item = "[]";

/** depths is how deep in brackets each line begins. */
function depths(lines: string[]): number[] {
  const out: number[] = [];
  let depth = 0;
  for (const line of lines) {
    out.push(depth);
    walk(line, (c) => {
      if (c === "{" || c === "[") depth++;
      if (c === "}" || c === "]") depth = Math.max(0, depth - 1);
    });
  }
  return out;
}

/** walk calls back for each sign that is not in quotes nor in a comment. */
function walk(text: string, f: (c: string, i: number) => void): void {
  let quote = "";
  for (let i = 0; i < text.length; i++) {
    const c = text[i];
    if (quote) {
      if (c === "\\" && quote === '"') i++;
      else if (c === quote) quote = "";
    } else if ((c === '"' || c === "'") && /(^|[\s[{,:])$/.test(text.slice(0, i))) quote = c;
    else if (c === "#" && /(^|\s)$/.test(text.slice(0, i))) i = (text + "\n").indexOf("\n", i) - 1;
    else f(c, i);
  }
}

const keyAt = /^(\s*)((?:- +)*)(?:([^\s#:{[][^#:{[]*?|"[^"]*")\s*:(?=\s|$))?/;

/** placeAt tells where an offset of a text is. */
export function placeAt(text: string, offset: number): Place {
  const lines = text.slice(0, offset).split("\n"), all = text.split("\n");
  const col = lines[lines.length - 1].length;
  const deep = depths(lines);
  let row = lines.length - 1;
  const begun = Math.max(offset - (/[\w-]*$/.exec(lines[row])?.[0].length ?? 0), 0);
  while (row > 0 && deep[row] > 0) row--;
  // The line that the block begins on: its dashes and its key, as far as they are before the cursor.
  const m = keyAt.exec(all[row])!;
  const last = row === lines.length - 1;
  const [, space, dashes, key] = m;
  const colon = key === undefined ? -1 : m[0].length - 1;
  const path: string[] = [];
  const inValue = colon >= 0 && (!last || col > colon);
  const indent = all[row].trim() === "" ? col : space.length;
  const inside: string[] = [];
  for (const c of dashes) if (c === "-") inside.push(item);
  if (inValue) inside.push(unquoted(key!));
  // A list may stand as far left as the key that holds it.
  let limit = indent + (dashes ? 1 : 0), dash = indent;
  for (let r = row - 1; r >= 0 && limit > 0; r--) {
    if (deep[r] > 0 || /^\s*(#|$)/.test(all[r])) continue;
    const [, sp, ds, k] = keyAt.exec(all[r])!;
    const tokens: [number, string][] = [];
    for (let i = 0; i < ds.length; i++) if (ds[i] === "-") tokens.push([sp.length + i, item]);
    if (k !== undefined) tokens.push([sp.length + ds.length, unquoted(k)]);
    for (const [c, what] of tokens.reverse()) {
      if (what === item ? c < dash : c < limit) {
        path.unshift(what);
        limit = what === item ? c + 1 : c;
        dash = c;
      }
    }
  }
  path.push(...inside);
  if (!inValue) return { path, at: "key", from: begun };
  const start = all.slice(0, row).reduce((n, l) => n + l.length + 1, 0) + colon + 1;
  return inFlow(text.slice(start, offset), path, begun);
}

/** inFlow goes on into the brackets of a value. */
function inFlow(value: string, path: string[], from: number): Place {
  const stack: { list: boolean; key: string | null; since: number }[] = [];
  walk(value, (c, i) => {
    const top = stack[stack.length - 1];
    if (c === "{" || c === "[") stack.push({ list: c === "[", key: null, since: i + 1 });
    else if (c === "}" || c === "]") stack.pop();
    else if (top && c === ",") {
      top.key = null;
      top.since = i + 1;
    } else if (top && !top.list && c === ":" && /^(\s|$)/.test(value.slice(i + 1))) top.key = unquoted(value.slice(top.since, i).trim());
  });
  const out = [...path];
  for (const s of stack) {
    if (s.list) out.push(item);
    else if (s.key !== null) out.push(s.key);
  }
  const top = stack[stack.length - 1];
  return { path: out, at: top && !top.list && top.key === null ? "key" : "value", from };
}

function unquoted(key: string): string {
  return key.replace(/^"(.*)"$/, "$1").trim();
}

/** spread is all that a schema may be. */
function spread(root: Schema, s: Schema | false | undefined): Schema[] {
  if (!s) return [];
  const out = [s];
  if (s.$ref) out.push(...spread(root, root.$defs?.[s.$ref.replace("#/$defs/", "")]));
  for (const x of [...(s.anyOf ?? []), ...(s.oneOf ?? [])]) out.push(...spread(root, x));
  return out;
}

/** schemasAt is all that may stand at a path. */
export function schemasAt(root: Schema, path: string[]): Schema[] {
  let here = spread(root, root);
  for (const p of path) {
    here = here.flatMap((s) => {
      if (p === item) return [...spread(root, s.items), ...(s.prefixItems ?? []).flatMap((x) => spread(root, x))];
      return spread(root, s.properties?.[p] ?? s.additionalProperties);
    });
  }
  return here;
}

/** Offer is a word that may stand at a place. */
export interface Offer {
  word: string;
  says: string;
}

/** keysAt is the keys that may stand at a path. */
export function keysAt(root: Schema, path: string[]): Offer[] {
  const out = new Map<string, string>();
  for (const s of schemasAt(root, path)) {
    for (const [k, v] of Object.entries(s.properties ?? {})) if (!out.has(k)) out.set(k, spread(root, v).find((x) => x.description)?.description ?? "");
  }
  return [...out].map(([word, says]) => ({ word, says }));
}

/** valuesAt is the words that may stand at a path. */
export function valuesAt(root: Schema, path: string[]): string[] {
  const words = schemasAt(root, path).flatMap((s) => [...(s.enum ?? []), ...(s.const !== undefined ? [s.const] : [])]);
  return [...new Set(words.filter((w) => typeof w === "string"))];
}

/** takesFormula tells whether a length or number may stand at a path, and so the name of a size. */
export function takesFormula(root: Schema, path: string[]): boolean {
  return schemasAt(root, path).some((s) => Array.isArray(s.type) && s.type.includes("number") && !s.type.includes("boolean"));
}

/** explain says in a few words what stands at a path. */
export function explain(root: Schema, path: string[]): string {
  const all = schemasAt(root, path);
  const says = all.find((s) => s.description)?.description ?? "";
  const words = valuesAt(root, path), keys = keysAt(root, path);
  const more = words.length ? "One of " + words.join(", ") + "."
    : takesFormula(root, path) ? "A length, an angle, a number or a formula."
    : all.some((s) => s.type === "integer") ? "A whole number."
    : keys.length ? "Keys: " + keys.map((k) => k.word).join(", ") + "." : "";
  return [says, more].filter(Boolean).join(" ");
}
