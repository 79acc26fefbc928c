// Dragging: what is dragged follows the pointer at once; the file follows as quickly as it is
// answered, each time by the way that is still to go, and all of it is undone as one.

import { call } from "../call";
import { now, took, trouble } from "../store";

export interface Axis {
  path: string; // of the value; empty: it is not written by itself
  mm: number;
}

let drags = 0;

export class Drag {
  private readonly group = `drag-${++drags}-${Date.now()}`;
  private sent: [number, number];
  private wanted: [number, number];
  private busy = false;

  constructor(private readonly axes: [Axis, Axis], private readonly intent: string) {
    this.sent = [axes[0].mm, axes[1].mm];
    this.wanted = [...this.sent];
  }

  /** to says where it is to be, in mm. */
  to(x: number, y: number): void {
    this.wanted = [x, y];
    if (!this.busy) void this.follow();
  }

  private async follow(): Promise<void> {
    this.busy = true;
    try {
      for (;;) {
        const by = [this.wanted[0] - this.sent[0], this.wanted[1] - this.sent[1]];
        const goal: [number, number] = [...this.wanted];
        const shifts = this.axes.flatMap((a, i) => (a.path && Math.abs(by[i]) > 1e-9 ? [{ path: a.path, by: by[i] }] : []));
        const s = now().open?.state;
        if (shifts.length === 0 || !s) return;
        took(await call("shift", { file: s.file, base: s.hash, shifts, intent: this.intent, group: this.group }));
        this.sent = goal;
      }
    } catch (e) {
      trouble(e);
      this.wanted = [...this.sent];
    } finally {
      this.busy = false;
    }
  }
}
