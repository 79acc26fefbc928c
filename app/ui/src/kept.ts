// What this browser remembers: choices for good, and what is in work for as long as the window is open.

import { useState } from "preact/hooks";

type Place = "localStorage" | "sessionStorage";

export function kept<T>(name: string, first: T, place: Place = "localStorage"): T {
  try {
    const text = window[place].getItem("dryfit-" + name);
    return text === null ? first : (JSON.parse(text) as T);
  } catch {
    return first; // a browser that keeps nothing
  }
}

/** keep remembers a value; undefined forgets it. */
export function keep(name: string, value: unknown, place: Place = "localStorage"): void {
  try {
    if (value === undefined) window[place].removeItem("dryfit-" + name);
    else window[place].setItem("dryfit-" + name, JSON.stringify(value));
  } catch {
    // a browser that keeps nothing
  }
}

/** useKept is a choice that this browser remembers. */
export function useKept<T>(name: string, first: T): [T, (v: T) => void] {
  const [value, set] = useState<T>(() => kept(name, first));
  return [value, (v) => {
    set(v);
    keep(name, v);
  }];
}
