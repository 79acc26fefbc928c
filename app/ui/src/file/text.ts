// Texts of files and of the pane: a pane has lines that end in \n and no mark at the front; a file
// keeps the ends of lines and the mark that it has, wherever nothing is typed.

const mark = "\ufeff";

/** paneOf is a file's text as the pane shows it. */
export function paneOf(file: string): string {
  return (file.startsWith(mark) ? file.slice(1) : file).replace(/\r\n?/g, "\n");
}

/** Splice replaces the stretch from `from` to `to` of a text. */
export interface Splice {
  from: number;
  to: number;
  insert: string;
}

/** between is the shortest splice that makes one text of another; null if they are the same. */
export function between(old: string, now: string): Splice | null {
  if (old === now) return null;
  const most = Math.min(old.length, now.length);
  let from = 0, end = 0;
  while (from < most && old[from] === now[from]) from++;
  while (end < most - from && old[old.length - 1 - end] === now[now.length - 1 - end]) end++;
  return { from, to: old.length - end, insert: now.slice(from, now.length - end) };
}

/** fileOf is the file's text after the pane was changed to a text. */
export function fileOf(file: string, pane: string): string {
  const s = between(paneOf(file), pane);
  if (!s) return file;
  const eol = /\r\n?|\n/.exec(file)?.[0] ?? "\n";
  return file.slice(0, inFile(file, s.from)) + s.insert.replace(/\n/g, eol) + file.slice(inFile(file, s.to));
}

/** inFile is the place in a file of a place in its pane. */
function inFile(file: string, at: number): number {
  let i = file.startsWith(mark) ? 1 : 0;
  for (; at > 0; at--) i += file[i] === "\r" && file[i + 1] === "\n" ? 2 : 1;
  return i;
}

/** meet tells whether two splices of one text are about the same lines. */
export function meet(text: string, a: Splice, b: Splice): boolean {
  const lines = (s: Splice) => {
    const end = text.indexOf("\n", s.to);
    return [text.lastIndexOf("\n", s.from - 1) + 1, end < 0 ? text.length : end];
  };
  const [a1, a2] = lines(a), [b1, b2] = lines(b);
  return a1 <= b2 && b1 <= a2;
}

/** moved is where a splice of a text goes after another one, elsewhere, was made. */
export function moved(s: Splice, after: Splice): Splice {
  if (after.from > s.to) return s;
  const by = after.insert.length - (after.to - after.from);
  return { from: s.from + by, to: s.to + by, insert: s.insert };
}
