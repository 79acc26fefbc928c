// What can be done here first, in a quiet sentence in its place. It goes for good once it has been
// done, or when it is sent away.

import { useEffect } from "preact/hooks";
import type { ComponentChildren } from "preact";
import { useKept } from "./kept";

/** Hint is one, told apart by id. done tells that what it says has been done. */
export function Hint({ id, done, children }: { id: string; done: boolean; children: ComponentChildren }) {
  const [gone, go] = useKept("hint-" + id, false);
  useEffect(() => {
    if (done && !gone) go(true);
  }, [done]);
  if (gone || done) return null;
  return (
    <p class="hint">
      {children} <button class="small" onClick={() => go(true)}>I see</button>
    </p>
  );
}
