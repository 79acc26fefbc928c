// The pane and the program: what is typed goes there after a short pause, what is changed
// elsewhere comes here. Neither is ever dropped: where both are about the same lines, what is
// typed stays in the pane and the one at the screen is asked.

import type { State } from "../protocol";
import type { Left } from "./kept";
import { between, fileOf, meet, moved, paneOf, type Splice } from "./text";

/** Pane is the text that is typed in. */
export interface Pane {
  text(): string;
  /** apply changes it as somebody else; the cursor stays where it is in the text. */
  apply(s: Splice): void;
}

/** Answer to a change: what is now, whether it was made or came too late; or that there is none yet. */
export type Answer = { now: State } | { later: true };

/** Send asks for a whole text in place of the one with the hash. */
export type Send = (base: State, text: string, group: string) => Promise<Answer>;

/** pause is how long after a key what is typed is sent, in ms. */
export const pause = 400;

/** spell is how long a pause ends what is undone as one, in ms. */
export const spell = 3000;

/** again is how long after no answer it is sent once more, in ms. */
const again = 1000;

export class Sync {
  /** conflict is what was written elsewhere about the lines that are typed in. */
  conflict: State | null = null;
  private base: State | null = null;
  private sending: string | null = null;
  private flight: Promise<void> | null = null;
  private timer: ReturnType<typeof setTimeout> | undefined;
  private typedAt = 0;
  private spells = 0;
  private ended = false;
  private lost = false; // what was sent last was not taken

  constructor(private pane: Pane, private send: Send, private told: () => void, private group: string) {}

  /** unsent tells whether the pane has what the program has not. */
  get unsent(): boolean {
    return this.base !== null && this.pane.text() !== paneOf(this.base.text);
  }

  typed(): void {
    const now = Date.now();
    if (now - this.typedAt > spell) this.spells++;
    this.typedAt = now;
    this.later(pause);
  }

  /** came takes in a state of the program. */
  came(now: State): void {
    const base = this.base;
    if (!base) {
      this.base = now;
      this.show(paneOf(now.text));
      return;
    }
    if (now.file === base.file && now.n <= base.n) return; // an answer that came later than what came after it
    if (now.hash === base.hash || now.text === this.sending) {
      this.base = now;
      return;
    }
    if (this.conflict) {
      this.conflict = now;
      this.told();
      return;
    }
    const was = paneOf(base.text), theirs = between(was, paneOf(now.text)), mine = between(was, this.pane.text());
    if (!theirs || (mine && this.pane.text() === paneOf(now.text))) {
      this.base = now;
    } else if (!mine || !meet(was, mine, theirs)) {
      this.base = now;
      this.pane.apply(mine ? moved(theirs, mine) : theirs);
      if (mine) this.later(pause);
    } else {
      this.conflict = now;
      this.told();
    }
  }

  /** restore puts back what was typed before the pane was left, and had not reached the program. */
  restore(left: Left): void {
    const now = this.base;
    if (!now || left.text === paneOf(now.text)) return;
    const mine = between(left.base, left.text), theirs = between(left.base, paneOf(now.text));
    if (!mine) return;
    if (!theirs || !meet(left.base, mine, theirs)) {
      this.pane.apply(theirs ? moved(mine, theirs) : mine);
      this.later(pause);
      return;
    }
    this.show(left.text);
    this.conflict = now;
    this.told();
  }

  /** file is the toy's, whatever it is called by now. */
  get file(): string {
    return this.base?.file ?? "";
  }

  /** left is what is to be kept when the pane goes away; null: nothing. */
  get left(): Left | null {
    return this.base && (this.conflict || this.unsent) ? { base: paneOf(this.base.text), text: this.pane.text() } : null;
  }

  /** flush sends what is typed at once, after what is on its way. */
  async flush(): Promise<void> {
    clearTimeout(this.timer);
    await this.flight;
    if (!this.base || this.conflict || this.lost || this.sending !== null || !this.unsent) return;
    this.flight = this.ask(this.base, fileOf(this.base.text, this.pane.text()));
    await this.flight;
  }

  private async ask(base: State, text: string): Promise<void> {
    this.sending = text;
    const answer = await this.send(base, text, this.group + this.spells);
    if (this.ended) { // there is no pane any more to bring together what is typed and what came
      this.sending = null;
      if ("now" in answer && answer.now.text === text) this.base = answer.now;
      else this.lost = true;
      return;
    }
    if ("now" in answer) this.came(answer.now);
    this.sending = null;
    if (this.unsent && !this.conflict) this.later("now" in answer ? pause : again);
  }

  /** choose ends a conflict; the other text is one undo away. */
  async choose(mine: boolean): Promise<void> {
    const theirs = this.conflict;
    if (!theirs) return;
    const typed = this.pane.text();
    this.conflict = null;
    this.base = theirs;
    this.spells++;
    await this.flush(); // what was typed is in the history, whichever stays
    if (!mine && !this.conflict && this.base.hash !== theirs.hash && this.pane.text() === typed) {
      this.spells++;
      this.show(paneOf(theirs.text));
      await this.flush();
    }
    this.told();
  }

  /** end sends the rest and stops. It tells whether all that was typed has reached the program. */
  async end(): Promise<boolean> {
    const text = this.pane.text();
    this.pane = { text: () => text, apply: () => {} };
    this.ended = true;
    await this.flush();
    return !this.conflict && !this.lost && !this.unsent;
  }

  private show(text: string): void {
    const s = between(this.pane.text(), text);
    if (s) this.pane.apply(s);
  }

  private later(ms: number): void {
    clearTimeout(this.timer);
    if (!this.ended) this.timer = setTimeout(() => void this.flush(), ms);
  }
}
