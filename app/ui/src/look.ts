// Day or evening: by the machine's own setting unless the user says otherwise.

import { useEffect, useState } from "preact/hooks";

const key = "dryfit-look";

function stored(): string {
  try {
    return localStorage.getItem(key) ?? "auto";
  } catch {
    return "auto"; // a browser that keeps nothing
  }
}

export function useLook(): [string, (look: string) => void] {
  const [look, set] = useState(stored);
  useEffect(() => {
    document.documentElement.dataset.look = look;
    try {
      localStorage.setItem(key, look);
    } catch {
      // it is chosen again next time
    }
  }, [look]);
  return [look, set];
}
