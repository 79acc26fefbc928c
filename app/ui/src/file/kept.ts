// What was typed and had not reached the program when its page was left, by file: it is there again
// when one comes back, also after the page was loaded anew.

/** Left is a text that was typed, and the one that it was made of. */
export interface Left {
  base: string;
  text: string;
}

const place = "dryfit-typed ";

export function keepLeft(file: string, left: Left): void {
  try {
    sessionStorage.setItem(place + file, JSON.stringify(left));
  } catch {
    // a browser that keeps nothing
  }
}

/** takeLeft takes what is kept for a file, null if nothing is. */
export function takeLeft(file: string): Left | null {
  try {
    const text = sessionStorage.getItem(place + file);
    sessionStorage.removeItem(place + file);
    return text === null ? null : (JSON.parse(text) as Left);
  } catch {
    return null;
  }
}

/** forgetLeft forgets a text that has reached the program after all. */
export function forgetLeft(file: string, left: Left): void {
  try {
    if (sessionStorage.getItem(place + file) === JSON.stringify(left)) sessionStorage.removeItem(place + file);
  } catch {
    // nothing is kept
  }
}
