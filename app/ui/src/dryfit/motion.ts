// How the toy stands just now: swung, rolled and pulled apart by hand, or rolling by itself. One
// object that the picture and the controls both look at; it is no part of the file.

import type { Leg, Scene } from "../protocol";
import { asDrawn, posesOf, rigOf, within, type Rig, type Stand } from "./bodies";
import { advance } from "./follow";
import type { Pose } from "./space";
import { tightest, trainOf, type Train } from "./train";

/** pace is how fast the toy rolls by itself, mm a second: that of a child that dawdles. */
const pace = 180;

/** Play is what the toy does by itself. */
export type Play = "on" | "round" | null;

export class Motion {
  scene: Scene | null = null;
  legs: Leg[] | null = null;
  rig: Rig = { base: 0, links: [] };
  train: Train = [];
  stand: Stand = { floor: { x: 0, y: 0, turn: 0 }, angles: [] };
  pulled = 0;
  playing: Play = null;
  rolled = 0; // mm since it was put back
  radius: number | null = null; // of the tightest turn; null: nothing steers
  private kind: Play = null; // of the play that was last
  private gone = 0; // mm of it
  private frame = 0;
  private last = 0;
  private readonly watchers = new Set<() => void>();

  watch(f: () => void): () => void {
    this.watchers.add(f);
    return () => this.watchers.delete(f);
  }

  private tell(): void {
    for (const f of [...this.watchers]) f();
  }

  /** take takes another toy, or the same after a change: what was swung stays so, as far as it can. */
  take(scene: Scene | null, legs: Leg[] | null): void {
    this.legs = legs;
    if (scene !== this.scene) {
      const before = this.scene;
      this.scene = scene;
      if (scene) {
        this.rig = rigOf(scene);
        this.train = trainOf(scene);
        this.radius = tightest(scene, this.train);
        const same = before && before.bodies.length === scene.bodies.length && before.bodies.every((b, i) => b.name === scene.bodies[i].name);
        this.stand = same ? { ...this.stand, angles: scene.bodies.map((b, i) => within(b, this.stand.angles[i])) } : asDrawn(scene);
        if (!same) this.stop();
      }
    }
    this.tell();
  }

  poses(): Pose[] {
    return this.scene ? posesOf(this.scene, this.rig, this.stand) : [];
  }

  /** turn swings a hinge or spins what does not stand on the floor. */
  turn(body: number, angle: number): void {
    if (!this.scene) return;
    const angles = [...this.stand.angles];
    angles[body] = within(this.scene.bodies[body], angle);
    this.stand = { ...this.stand, angles };
    this.pulled = 0;
    this.tell();
  }

  /** roll takes the toy straight on along the floor; all its wheels turn with it. */
  roll(far: number): void {
    if (!this.scene) return;
    this.stand = advance(this.scene, this.rig, this.train, this.stand, far, 0);
    this.rolled += far;
    this.pulled = 0;
    this.tell();
  }

  /** pull takes the toy apart by a share of the whole way; the ways hold for the toy as drawn. */
  pull(share: number): void {
    if (!this.scene) return;
    this.halt();
    if (share > 0 && this.pulled === 0) this.stand = { ...this.stand, angles: asDrawn(this.scene).angles };
    this.pulled = share;
    this.tell();
  }

  /** back puts all as drawn. */
  back(): void {
    if (!this.scene) return;
    this.halt();
    this.stand = asDrawn(this.scene);
    this.pulled = this.rolled = this.gone = 0;
    this.tell();
  }

  isBack(): boolean {
    const f = this.stand.floor;
    return this.pulled === 0 && f.x === 0 && f.y === 0 && f.turn === 0 && this.stand.angles.every((a) => a === 0);
  }

  /** play lets the toy roll by itself until it is stopped. Where motion is not wanted it goes one
   * length on at once. */
  play(what: Play): void {
    if (!this.scene || this.train.length === 0) return;
    if (what !== this.kind) this.gone = 0; // else it goes on with the turn that it was in
    this.kind = what;
    if (matchMedia("(prefers-reduced-motion: reduce)").matches) {
      this.go(what, this.long());
      return;
    }
    this.halt();
    this.playing = what;
    this.last = 0;
    if (what) this.frame = requestAnimationFrame(this.tick);
    this.tell();
  }

  stop(): void {
    this.halt();
    this.tell();
  }

  private halt(): void {
    cancelAnimationFrame(this.frame);
    this.playing = null;
  }

  private readonly tick = (now: number): void => {
    const longest = 0.1; // seconds: a page that was hidden does not leap on
    const dt = this.last ? Math.min(longest, (now - this.last) / 1000) : 0;
    this.last = now;
    this.go(this.playing, pace * dt);
    if (this.playing) this.frame = requestAnimationFrame(this.tick);
  };

  /** go is one frame of a play. In short legs, so that a long one follows the turns too. */
  private go(what: Play, far: number): void {
    if (!this.scene) return;
    const leg = 4; // mm
    for (let left = far; left > 0; left -= leg) {
      const by = Math.min(leg, left);
      this.stand = advance(this.scene, this.rig, this.train, this.stand, by, what === "round" ? this.bendOf(by) : 0);
      this.gone += by;
    }
    this.rolled += far;
    this.pulled = 0;
    this.tell();
  }

  private long(): number {
    return this.scene ? this.scene.high[0] - this.scene.low[0] : 0;
  }

  /** roomier is how much wider than the tightest turn the toy is led round. */
  private static readonly roomier = 1.15;

  /** bendOf is how much the way turns: a half turn to the left and one to the right, with a
   * length straight on before each. */
  private bendOf(far: number): number {
    if (this.radius === null) return 0;
    const r = this.radius * Motion.roomier;
    const straight = this.long(), half = Math.PI * r;
    const at = this.gone % (2 * (straight + half));
    const leg = at % (straight + half);
    return leg < straight ? 0 : (at < straight + half ? 1 : -1) * (far / r);
  }
}
