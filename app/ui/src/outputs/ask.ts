// Asking for what is made of the toy, again whenever its text or what is asked for changes. What
// was there before stays until the new is there, and says that it is of an earlier text.

import { useEffect, useState } from "preact/hooks";
import type { Calls, JobArgs, ShopFile } from "../protocol";
import { call } from "../call";
import { trouble, useModel } from "../store";

/** Answer is the last answer there was, and how it stands with the next. */
export interface Answer<T> {
  value: T | null;
  asking: boolean;
  fails: string; // why there is no newer one; "" if nothing is wrong
}

/** pause is how long a page waits for more changes before it asks, in ms. */
const pause = 250;

/** useAsk asks for what name makes. args are null as long as it is not known what to ask for. */
export function useAsk<K extends keyof Calls>(name: K, args: Calls[K]["args"] | null): Answer<Calls[K]["answer"]> {
  const [answer, set] = useState<Answer<Calls[K]["answer"]>>({ value: null, asking: true, fails: "" });
  const key = JSON.stringify(args);
  useEffect(() => {
    if (args === null) return;
    const stop = new AbortController();
    set((a) => ({ ...a, asking: true }));
    const wait = setTimeout(async () => {
      try {
        const value = await call(name, args, stop.signal);
        set({ value, asking: false, fails: "" });
      } catch (e) {
        if (!stop.signal.aborted) set((a) => ({ ...a, asking: false, fails: (e as Error).message }));
      }
    }, answer.value === null ? 0 : pause);
    return () => {
      clearTimeout(wait);
      stop.abort();
    };
  }, [name, key]);
  return answer;
}

/** useJob is what is made: the open toy's text, in a shop, in the user's units. */
export function useJob(count: number, shop: string): JobArgs | null {
  const units = useModel((m) => m.units);
  const file = useModel((m) => m.open?.state?.file ?? "");
  const hash = useModel((m) => m.open?.state?.hash ?? "");
  return hash === "" ? null : { file, hash, shop, units, count };
}

/** useShops is the shop files of the folder, looked for again whenever the window is come back to. */
export function useShops(): ShopFile[] | null {
  const [shops, set] = useState<ShopFile[] | null>(null);
  useEffect(() => {
    const ask = () => call("shops", {}).then((a) => set(a.shops), trouble);
    void ask();
    addEventListener("focus", ask);
    return () => removeEventListener("focus", ask);
  }, []);
  return shops;
}
