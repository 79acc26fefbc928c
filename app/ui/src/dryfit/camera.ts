// Where one looks from: turned by dragging, by keys, to the whole toy, or to a place.

import { PerspectiveCamera, Vector3, type Box3 } from "three";
import { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";

/** usual is where one looks from at first: the front right, a little from above. */
const usual = new Vector3(0.75, -1, 0.55).normalize();

const keyStep = Math.PI / 18; // a turn by an arrow key
const poleNear = 0.05; // radians from straight above that one does not go past
const roomAround = 1.16; // of the picture, about the toy
const edge = 0.8; // of half the picture, from where the middle of the toy is at its edge
const glide = 450; // ms of a turn to a place

export class Eye {
  readonly camera = new PerspectiveCamera(32, 1, 1, 20000);
  readonly controls: OrbitControls;
  private frame = 0;

  constructor(canvas: HTMLCanvasElement, private readonly changed: () => void) {
    this.camera.up.set(0, 0, 1);
    this.camera.layers.enable(1);
    this.controls = new OrbitControls(this.camera, canvas);
    this.controls.addEventListener("change", changed);
    this.controls.addEventListener("start", () => cancelAnimationFrame(this.frame));
  }

  end(): void {
    cancelAnimationFrame(this.frame);
    this.controls.dispose();
  }

  /** shape takes the shape of the picture. */
  shape(w: number, h: number): void {
    this.camera.aspect = w / h;
    this.camera.updateProjectionMatrix();
  }

  /** farFor is how far off, in a direction, all corners of a box are seen, with some room around. */
  private farFor(box: Box3, way: Vector3): number {
    const up = Math.tan((this.camera.fov * Math.PI) / 360) / roomAround;
    const side = up * this.camera.aspect;
    const right = new Vector3().crossVectors(this.camera.up, way).normalize();
    const above = new Vector3().crossVectors(way, right);
    const middle = box.getCenter(new Vector3());
    let far = 0;
    for (let i = 0; i < 8; i++) {
      const c = new Vector3(i & 1 ? box.max.x : box.min.x, i & 2 ? box.max.y : box.min.y, i & 4 ? box.max.z : box.min.z).sub(middle);
      far = Math.max(far, c.dot(way) + Math.max(Math.abs(c.dot(right)) / side, Math.abs(c.dot(above)) / up));
    }
    return far;
  }

  /** home looks at the whole toy. */
  home(box: Box3): void {
    const radius = box.getSize(new Vector3()).length() / 2;
    const far = this.farFor(box, usual);
    this.camera.near = far / 60;
    this.camera.far = far * 20;
    this.camera.updateProjectionMatrix();
    this.controls.minDistance = radius / 8;
    this.controls.maxDistance = far * 6;
    this.to(box.getCenter(new Vector3()), usual.clone().multiplyScalar(far), false);
  }

  /** widen keeps as much of the toy in the picture as before, now that it is in another box. */
  widen(before: Box3, now: Box3): void {
    const by = now.getSize(new Vector3()).length() / Math.max(1e-6, before.getSize(new Vector3()).length());
    this.camera.position.sub(this.controls.target).multiplyScalar(by);
    this.controls.target.add(now.getCenter(new Vector3()).sub(before.getCenter(new Vector3())));
    this.camera.position.add(this.controls.target);
    this.controls.update();
  }

  /** misses tells whether the middle of a box is at the edge of the picture or beyond. */
  misses(box: Box3): boolean {
    this.camera.updateMatrixWorld();
    const at = box.getCenter(new Vector3()).project(this.camera);
    return Math.abs(at.x) > edge || Math.abs(at.y) > edge || at.z > 1;
  }

  /** along goes with what is looked at. */
  along(x: number, y: number): void {
    const by = new Vector3(x, y, 0);
    this.camera.position.add(by);
    this.controls.target.add(by);
    this.controls.update();
  }

  /** far is how far off one looks from. */
  far(): number {
    return this.camera.position.distanceTo(this.controls.target);
  }

  /** from is the direction one looks from. */
  from(): Vector3 {
    return this.camera.position.clone().sub(this.controls.target).normalize();
  }

  /** to looks at a target from an offset, going there slowly unless motion is not wanted. */
  to(target: Vector3, offset: Vector3, slowly = true): void {
    cancelAnimationFrame(this.frame);
    const [t0, o0] = [this.controls.target.clone(), this.camera.position.clone().sub(this.controls.target)];
    const set = (k: number): void => {
      const far = o0.length() + (offset.length() - o0.length()) * k;
      const way = o0.clone().normalize().lerp(offset.clone().normalize(), k);
      if (way.lengthSq() < 1e-6) way.set(0, -1, 0); // from the one side straight to the other
      this.controls.target.copy(t0).lerp(target, k);
      this.camera.position.copy(this.controls.target).add(way.normalize().multiplyScalar(far));
      this.controls.update();
      this.changed();
    };
    if (!slowly || o0.length() === 0 || matchMedia("(prefers-reduced-motion: reduce)").matches) return set(1);
    const begin = performance.now();
    const step = (now: number): void => {
      const k = Math.min(1, Math.max(0, now - begin) / glide);
      set(k * k * (3 - 2 * k));
      if (k < 1) this.frame = requestAnimationFrame(step);
    };
    this.frame = requestAnimationFrame(step);
  }

  /** key turns, comes nearer or goes away; it tells whether the key was one of its own. */
  key(name: string): boolean {
    const turns: Record<string, [number, number]> = { ArrowLeft: [keyStep, 0], ArrowRight: [-keyStep, 0], ArrowUp: [0, -keyStep], ArrowDown: [0, keyStep] };
    if (turns[name]) this.orbit(...turns[name]);
    else if (name === "+" || name === "=") this.nearer(0.87);
    else if (name === "-") this.nearer(1.15);
    else return false;
    return true;
  }

  private orbit(about: number, over: number): void {
    const off = this.camera.position.clone().sub(this.controls.target);
    const up = new Vector3(0, 0, 1);
    off.applyAxisAngle(up, about);
    const lean = off.angleTo(up) + over;
    if (lean > poleNear && lean < Math.PI - poleNear) off.applyAxisAngle(off.clone().cross(up).normalize(), -over);
    this.camera.position.copy(this.controls.target).add(off);
    this.controls.update();
    this.changed();
  }

  private nearer(by: number): void {
    this.camera.position.sub(this.controls.target).multiplyScalar(by).add(this.controls.target);
    this.controls.update();
    this.changed();
  }
}
