// What was typed and had not reached the program when its page was left, by file: it is there again
// when one comes back, also after the page was loaded anew.

import { keep, kept } from "../kept";

/** Left is a text that was typed, and the one that it was made of. */
export interface Left {
  base: string;
  text: string;
}

const name = (file: string) => "typed " + file;

export function keepLeft(file: string, left: Left): void {
  keep(name(file), left, "sessionStorage");
}

/** takeLeft takes what is kept for a file, null if nothing is. */
export function takeLeft(file: string): Left | null {
  const left = kept<Left | null>(name(file), null, "sessionStorage");
  keep(name(file), undefined, "sessionStorage");
  return left;
}

/** forgetLeft forgets a text that has reached the program after all. */
export function forgetLeft(file: string, left: Left): void {
  if (kept<Left | null>(name(file), null, "sessionStorage")?.text === left.text) keep(name(file), undefined, "sessionStorage");
}
