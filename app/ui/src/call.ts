// Talking to the program: calls, things made as bytes, and the stream of what happens.

import type { BuildsArgs, BuildsEvent, Calls, Event, Failure, LayoutArgs, LayoutEvent, Makings, State } from "./protocol";

const tokenHeader = "X-Dryfit-Token";
const tokenKey = "dryfit-token";

let token = "";

/** takeToken takes the token of this start out of the address, where it is never sent. */
export function takeToken(): void {
  const given = location.hash.slice(1);
  if (given && !given.startsWith("/")) {
    sessionStorage.setItem(tokenKey, given);
    history.replaceState(null, "", "#/");
  }
  token = sessionStorage.getItem(tokenKey) ?? "";
}

/** Refused is an answer that says no, in words for the one at the screen. */
export class Refused extends Error {
  constructor(readonly status: number, says: string, readonly state?: State) {
    super(says);
  }
}

async function post(path: string, args: unknown, signal?: AbortSignal): Promise<Response> {
  let answer: Response;
  try {
    answer = await fetch(path, {
      method: "POST",
      headers: { "Content-Type": "application/json", [tokenHeader]: token },
      body: JSON.stringify(args),
      signal,
    });
  } catch (e) {
    if (signal?.aborted) throw e;
    throw new Refused(0, "dryfit does not answer: is it still running?");
  }
  if (!answer.ok) {
    const f = (await answer.json().catch(() => ({ says: answer.statusText }))) as Failure;
    throw new Refused(answer.status, f.says, f.state);
  }
  return answer;
}

export async function call<K extends keyof Calls>(name: K, args: Calls[K]["args"], signal?: AbortSignal): Promise<Calls[K]["answer"]> {
  return (await post("/call/" + name, args, signal)).json();
}

/** make returns what is downloaded or shown as a picture. */
export async function make<K extends keyof Makings>(name: K, args: Makings[K], signal?: AbortSignal): Promise<Blob> {
  return (await post("/make/" + name, args, signal)).blob();
}

/** listen hands on every event of a toy and of the shelf, lengths in units, until it is aborted or
 * the stream ends. */
export async function listen(file: string, units: string, signal: AbortSignal, on: (e: Event) => void): Promise<void> {
  await lines(await post("/stream", { file, units }, signal), on);
}

/** layout hands on what is found, better each time, until it is aborted or the time is over. */
export async function layout(args: LayoutArgs, signal: AbortSignal, on: (e: LayoutEvent) => void): Promise<void> {
  await lines(await post("/layout", args, signal), on);
}

/** builds hands on what virtual builds have shown so far, until it is aborted or all are made. */
export async function builds(args: BuildsArgs, signal: AbortSignal, on: (e: BuildsEvent) => void): Promise<void> {
  await lines(await post("/builds", args, signal), on);
}

/** lines hands on an answer that is a value a line, as they come. */
async function lines<T>(answer: Response, on: (value: T) => void): Promise<void> {
  const reader = answer.body!.pipeThrough(new TextDecoderStream()).getReader();
  let rest = "";
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return;
    const all = (rest + value).split("\n");
    rest = all.pop()!;
    for (const line of all) if (line) on(JSON.parse(line) as T);
  }
}
