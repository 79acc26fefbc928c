// Which page is shown, as the address has it after #.

import { useEffect, useState } from "preact/hooks";

/** Pages of a toy, in the order of the work. */
export const pages = [
  { id: "draw", name: "Draw" },
  { id: "dry-fit", name: "Dry fit" },
  { id: "stock", name: "Stock" },
  { id: "steps", name: "Steps" },
  { id: "patterns", name: "Patterns" },
  { id: "others", name: "Others" },
  { id: "file", name: "File" },
] as const;

export type PageId = (typeof pages)[number]["id"];

/** Route is the shelf (no file) or a page of a toy. */
export interface Route {
  file: string | null;
  page: PageId;
}

export function routeOf(hash: string): Route {
  const [, what, file, page] = hash.replace(/^#/, "").split("/");
  if (what !== "toy" || !file) return { file: null, page: "dry-fit" };
  const known = pages.find((p) => p.id === page);
  try {
    return { file: decodeURIComponent(file), page: known ? known.id : "dry-fit" };
  } catch {
    return { file: null, page: "dry-fit" };
  }
}

export function hashOf(r: Route): string {
  return r.file === null ? "#/" : `#/toy/${encodeURIComponent(r.file)}/${r.page}`;
}

export function go(r: Route): void {
  location.hash = hashOf(r);
}

export function useRoute(): Route {
  const [route, set] = useState(() => routeOf(location.hash));
  useEffect(() => {
    const look = () => set(routeOf(location.hash));
    addEventListener("hashchange", look);
    return () => removeEventListener("hashchange", look);
  }, []);
  return route;
}
