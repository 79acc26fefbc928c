// The pointer on the picture: a click picks a face, a drag on what can move moves it, any other
// drag turns the view. A click may tremble: it is a drag only once it has gone further than that.

import { Raycaster, Vector2, Vector3 } from "three";
import { followed, moveOf, type Move } from "./bodies";
import type { Eye } from "./camera";
import { placesOf } from "./follow";
import type { Motion } from "./motion";
import type { Drawn, Pieces } from "./pieces";
import { after, minus, moved, plus, turn, turned, type Pose, type Vec } from "./space";

/** Pick is a face that was clicked or that the pointer is over. */
export interface Pick {
  piece: string;
  normal: Vec; // outward, in the world
  at: Vec; // in the world
  triangle: number; // of the mesh of its shape
}

const tremble: Record<string, number> = { mouse: 5, pen: 8, touch: 12 }; // px

/** Grip is what the pointer holds. */
interface Grip {
  move: Move;
  body: number;
  local: Vec; // where, in the body as drawn
  world: Vec; // where, as it was then
  done: number; // mm rolled since
}

export class Hand {
  onPick: (p: Pick | null) => void = () => {};
  onOver: (p: Pick | null) => void = () => {};
  /** Whether drags move things, or always turn the view. */
  moves = true;
  private down: { x: number; y: number; id: number; trembles: number; pick: Pick | null } | null = null;
  private grip: Grip | null = null;
  private gone = false; // further than a click trembles
  private looking = 0;
  private readonly ray = new Raycaster();

  constructor(private readonly canvas: HTMLCanvasElement, private readonly eye: Eye, private readonly pieces: Pieces, private readonly motion: Motion) {
    canvas.addEventListener("pointerdown", this.pressed, { capture: true }); // before the view begins to turn
    canvas.addEventListener("pointermove", this.went);
    canvas.addEventListener("pointerup", this.released);
    canvas.addEventListener("pointercancel", this.lost);
    canvas.addEventListener("pointerleave", this.left);
  }

  end(): void {
    cancelAnimationFrame(this.looking);
    this.canvas.removeEventListener("pointerdown", this.pressed, { capture: true });
    this.canvas.removeEventListener("pointermove", this.went);
    this.canvas.removeEventListener("pointerup", this.released);
    this.canvas.removeEventListener("pointercancel", this.lost);
    this.canvas.removeEventListener("pointerleave", this.left);
  }

  /** under is the face below a place of the screen. */
  under(e: { clientX: number; clientY: number }): Pick | null {
    const box = this.canvas.getBoundingClientRect();
    const at = new Vector2(((e.clientX - box.left) / box.width) * 2 - 1, 1 - ((e.clientY - box.top) / box.height) * 2);
    this.pieces.group.updateMatrixWorld();
    this.ray.setFromCamera(at, this.eye.camera);
    const hit = this.ray.intersectObjects(this.pieces.drawn.map((d) => d.mesh), false)[0];
    const d = hit && this.pieces.drawn.find((x) => x.mesh === hit.object);
    if (!hit || !d || hit.faceIndex == null || !hit.face) return null;
    const n = turned(d.pose, [hit.face.normal.x, hit.face.normal.y, hit.face.normal.z]);
    return { piece: d.piece.id, normal: n, at: hit.point.toArray() as Vec, triangle: hit.faceIndex };
  }

  /** between is the pieces that lie between two places, the nearer first. */
  between(from: Vec, way: Vector3, far: number): Drawn[] {
    this.ray.set(new Vector3(...from), way);
    this.ray.far = far;
    const hits = this.ray.intersectObjects(this.pieces.drawn.map((d) => d.mesh), false);
    this.ray.far = Infinity;
    return hits.map((h) => this.pieces.drawn.find((d) => d.mesh === h.object)!);
  }

  /** moveAt is what a drag on a piece would move. */
  moveAt(piece: string): Move | null {
    const scene = this.motion.scene, d = this.pieces.drawn.find((x) => x.piece.id === piece);
    return scene && d && this.motion.pulled === 0 ? moveOf(scene, this.motion.rig, d.piece.body) : null;
  }

  private readonly pressed = (e: PointerEvent): void => {
    if (this.down) { // a second finger: the view is turned or brought nearer
      this.letGo();
      return;
    }
    if (e.button !== 0) return;
    const pick = this.under(e);
    this.down = { x: e.clientX, y: e.clientY, id: e.pointerId, trembles: tremble[e.pointerType] ?? tremble.mouse, pick };
    this.gone = false;
    const move = pick && this.moves ? this.moveAt(pick.piece) : null;
    const d = pick && this.pieces.drawn.find((x) => x.piece.id === pick.piece);
    if (!move || !pick || !d) return;
    this.eye.controls.enabled = false;
    this.canvas.setPointerCapture(e.pointerId);
    this.grip = { move, body: d.piece.body, local: inverse(this.motion.poses()[d.piece.body], pick.at), world: pick.at, done: 0 };
  };

  private readonly went = (e: PointerEvent): void => {
    if (!this.down) {
      if (e.buttons === 0) this.look(e);
      return;
    }
    if (e.pointerId !== this.down.id) return;
    if (Math.hypot(e.clientX - this.down.x, e.clientY - this.down.y) > this.down.trembles) this.gone = true;
    if (this.gone && this.grip) this.drag(this.grip, e);
  };

  private readonly released = (e: PointerEvent): void => {
    if (!this.down || e.pointerId !== this.down.id) return;
    const { pick } = this.down;
    const clicked = !this.gone;
    this.letGo();
    if (clicked) this.onPick(pick);
  };

  private readonly lost = (): void => this.letGo();

  private readonly left = (): void => {
    if (!this.down) this.onOver(null);
  };

  private letGo(): void {
    this.down = this.grip = null;
    this.eye.controls.enabled = true;
  }

  /** look tells what the pointer is over, once a frame. */
  private look(e: PointerEvent): void {
    cancelAnimationFrame(this.looking);
    const { clientX, clientY } = e;
    this.looking = requestAnimationFrame(() => this.onOver(this.under({ clientX, clientY })));
  }

  /** drag moves what is held so that it stays under the pointer, as far as it goes. */
  private drag(g: Grip, e: PointerEvent): void {
    const scene = this.motion.scene;
    if (!scene) return;
    this.motion.stop();
    const box = this.canvas.getBoundingClientRect();
    const off = (p: Vec): number => {
      const s = new Vector3(...p).project(this.eye.camera);
      return Math.hypot(((s.x + 1) / 2) * box.width - (e.clientX - box.left), ((1 - s.y) / 2) * box.height - (e.clientY - box.top));
    };
    if (g.move.kind === "roll") {
      const lead = placesOf(this.motion.train, this.motion.poses())[0];
      const way: Vec = [Math.cos(lead.heading), Math.sin(lead.heading), 0];
      const reach = scene.high[0] - scene.low[0];
      const to = followed(g.done, -Infinity, Infinity, reach, (t) => off(plus(g.world, way, t)));
      this.motion.roll(to - g.done);
      g.done = to;
      return;
    }
    const b = scene.bodies[g.move.by];
    const link = this.motion.rig.links.find((l) => l.body === g.body)!;
    const carrier = this.motion.poses()[link.from];
    const place = (angle: number): Vec => moved(after(carrier, turn(b.at as Vec, b.axis as Vec, g.move.way * angle)), g.local);
    const now = this.motion.stand.angles[g.move.by];
    const ends: [number, number] = g.move.kind === "swing" ? [b.low, b.high] : [-Infinity, Infinity];
    this.motion.turn(g.move.by, followed(now, ...ends, Math.PI / 3, (a) => off(place(a))));
  }
}

/** inverse is where a point comes from. */
function inverse(p: Pose, v: Vec): Vec {
  const d = minus(v, [p[9], p[10], p[11]]);
  return [0, 3, 6].map((i) => p[i] * d[0] + p[i + 1] * d[1] + p[i + 2] * d[2]) as Vec;
}
