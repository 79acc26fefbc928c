// Names that an author gives, as the toy file takes them (docs/toy-file.md).

/** expected is what a name is made of. */
export const expected = "letters a to z, digits and hyphens, the first a letter";

/** named is what is typed as a name, its spaces hyphens; wrong says why it cannot be one, and is "" where
 * it can. */
export function named(typed: string): { name: string; wrong: string } {
  const name = typed.trim().replace(/[\s_]+/g, "-");
  return { name, wrong: /^[A-Za-z][A-Za-z0-9-]*$/.test(name) ? "" : `${name || "this"} is not a name; expected ${expected}` };
}

/** listed is a list in words. */
export function listed(items: string[]): string {
  return items.length < 2 ? items.join("") : `${items.slice(0, -1).join(", ")} and ${items[items.length - 1]}`;
}
