// Choices that this browser remembers.

import { useState } from "preact/hooks";

export function kept<T>(name: string, first: T): T {
  try {
    const text = localStorage.getItem("dryfit-" + name);
    return text === null ? first : (JSON.parse(text) as T);
  } catch {
    return first; // a browser that keeps nothing
  }
}

export function keep(name: string, value: unknown): void {
  try {
    localStorage.setItem("dryfit-" + name, JSON.stringify(value));
  } catch {
    // it is chosen again next time
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
