// Lists whose order is changed by buttons: the focus goes along with what is moved, so that it can be
// moved on with the same key.

import { say } from "./store";

/** handle is the id of a button that moves item k of the list at a path. */
export function handle(path: string, k: number, way: "up" | "down"): string {
  return `${path}-${k}-${way}`;
}

/** follow brings the focus to where an item was moved, and says where it is now. */
export function follow(path: string, from: number, to: number, count: number): void {
  const [first, other] = to < from ? (["up", "down"] as const) : (["down", "up"] as const);
  const button = (way: "up" | "down") => document.getElementById(handle(path, to, way)) as HTMLButtonElement | null;
  const one = button(first);
  (one && !one.disabled ? one : button(other))?.focus();
  say(`now ${to + 1} of ${count}`);
}
