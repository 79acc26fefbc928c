// The toy in three dimensions. Drawn only when something has changed; what is shown comes from
// the model, how one looks at it and what is moved by hand stays here.

import {
  BufferAttribute, BufferGeometry, Color, DirectionalLight, Group, HemisphereLight, LineBasicMaterial, LineSegments, Material, Matrix4, Mesh,
  MeshBasicMaterial, PerspectiveCamera, Quaternion, Scene as Space, SphereGeometry, Vector3, WebGLRenderer,
} from "three";
import { OrbitControls } from "three/examples/jsm/controls/OrbitControls.js";
import type { Finding, Leg, Mesh as Shape, Scene } from "../protocol";
import { findingsOf, type Model } from "../store";
import { floats, whole } from "./bytes";
import { legOffsets } from "./apart";
import { woodMaterial } from "./wood";

/** Shown is a piece as it stands in the picture. */
interface Shown {
  body: number;
  group: Group; // moved by pulling apart, in the world as drawn
  mesh: Mesh;
  ink: LineSegments;
  part: string;
  id: string;
}

export class View {
  private readonly space = new Space();
  private readonly camera = new PerspectiveCamera(35, 1, 1, 20000);
  private readonly renderer: WebGLRenderer;
  private readonly controls: OrbitControls;
  private readonly toy = new Group();
  private readonly marks = new Group();
  private readonly shapes = new Map<string, { solid: BufferGeometry; ink: BufferGeometry }>();
  private readonly ink = new LineBasicMaterial();
  private bodies: Group[] = [];
  private shown: Shown[] = [];
  private scene: Scene | null = null;
  private apart: Leg[] | null = null;
  private pulled = 0;
  private turned: Record<string, number> = {};
  private drawing = 0;
  private readonly watcher: ResizeObserver;

  constructor(private readonly place: HTMLElement) {
    this.renderer = new WebGLRenderer({ antialias: true, alpha: true, preserveDrawingBuffer: true });
    this.renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    place.append(this.renderer.domElement);
    this.camera.up.set(0, 0, 1);
    this.controls = new OrbitControls(this.camera, this.renderer.domElement);
    this.controls.addEventListener("change", () => this.draw());
    const sun = new DirectionalLight(0xffffff, 2.2);
    sun.position.set(0.6, -0.9, 1.4);
    this.space.add(new HemisphereLight(0xffffff, 0xb8ab97, 1.6), sun, this.toy, this.marks);
    this.watcher = new ResizeObserver(() => this.resize());
    this.watcher.observe(place);
    place.addEventListener("keydown", this.keys);
    this.resize();
  }

  end(): void {
    this.watcher.disconnect();
    this.place.removeEventListener("keydown", this.keys);
    cancelAnimationFrame(this.drawing);
    this.clear();
    for (const s of this.shapes.values()) {
      s.solid.dispose();
      s.ink.dispose();
    }
    this.controls.dispose();
    this.renderer.dispose();
    this.renderer.domElement.remove();
  }

  /** show brings the picture up to the model. */
  show(m: Model): void {
    const scene = m.open?.scene ?? null;
    if (scene && scene !== this.scene) {
      const first = this.scene === null;
      this.scene = scene;
      this.build(scene);
      if (first) this.home();
    }
    if (m.open && m.open.apart !== this.apart) this.apart = m.open.apart;
    this.mark(m);
    this.pose();
  }

  pull(share: number): void {
    this.pulled = share;
    this.pose();
  }

  turn(angles: Record<string, number>): void {
    this.turned = angles;
    this.pose();
  }

  /** home looks at the whole toy from the front right, a little from above. */
  home(): void {
    if (!this.scene) return;
    const low = new Vector3(...this.scene.low), high = new Vector3(...this.scene.high);
    const middle = low.clone().add(high).multiplyScalar(0.5);
    const far = (high.clone().sub(low).length() / 2 / Math.sin((this.camera.fov * Math.PI) / 360)) * 1.05;
    this.camera.position.copy(middle).add(new Vector3(0.75, -1, 0.6).normalize().multiplyScalar(far));
    this.camera.near = far / 50;
    this.camera.far = far * 20;
    this.camera.updateProjectionMatrix();
    this.controls.target.copy(middle);
    this.controls.update();
    this.draw();
  }

  private readonly keys = (e: KeyboardEvent): void => {
    const step = Math.PI / 18;
    const turn: Record<string, [number, number]> = { ArrowLeft: [step, 0], ArrowRight: [-step, 0], ArrowUp: [0, -step], ArrowDown: [0, step] };
    if (turn[e.key]) {
      this.orbit(...turn[e.key]);
    } else if (e.key === "+" || e.key === "=") {
      this.nearer(0.87);
    } else if (e.key === "-") {
      this.nearer(1.15);
    } else if (e.key === "Home") {
      this.home();
    } else {
      return;
    }
    e.preventDefault();
  };

  private orbit(about: number, over: number): void {
    const off = this.camera.position.clone().sub(this.controls.target);
    const up = new Vector3(0, 0, 1);
    off.applyAxisAngle(up, about);
    const side = off.clone().cross(up).normalize();
    const lean = off.angleTo(up);
    if (lean + over > 0.05 && lean + over < Math.PI - 0.05) off.applyAxisAngle(side, -over);
    this.camera.position.copy(this.controls.target).add(off);
    this.controls.update();
    this.draw();
  }

  private nearer(by: number): void {
    this.camera.position.sub(this.controls.target).multiplyScalar(by).add(this.controls.target);
    this.controls.update();
    this.draw();
  }

  private resize(): void {
    const { clientWidth: w, clientHeight: h } = this.place;
    if (w === 0 || h === 0) return;
    this.camera.aspect = w / h;
    this.camera.updateProjectionMatrix();
    this.renderer.setSize(w, h, false);
    this.draw();
  }

  private draw(): void {
    if (this.drawing) return;
    this.drawing = requestAnimationFrame(() => {
      this.drawing = 0;
      const style = getComputedStyle(this.place);
      this.ink.color = new Color(style.getPropertyValue("--ink").trim() || "#22303c");
      this.renderer.render(this.space, this.camera);
      this.place.dataset.drawn = String(+(this.place.dataset.drawn ?? 0) + 1);
    });
  }

  private clear(): void {
    for (const s of this.shown) (s.mesh.material as Material).dispose();
    this.toy.clear();
    this.shown = [];
  }

  private build(scene: Scene): void {
    this.clear();
    const used = new Set(scene.pieces.map((p) => p.shape));
    for (const [key, s] of this.shapes) {
      if (used.has(key)) continue;
      s.solid.dispose();
      s.ink.dispose();
      this.shapes.delete(key);
    }
    for (const m of scene.meshes) if (!this.shapes.has(m.key)) this.shapes.set(m.key, geometry(m));
    this.bodies = scene.bodies.map(() => new Group());
    scene.bodies.forEach((b, i) => (b.on >= 0 ? this.bodies[b.on] : this.toy).add(this.bodies[i]));
    scene.pieces.forEach((p, i) => {
      const s = this.shapes.get(p.shape);
      if (!s) return;
      const group = new Group();
      const mesh = new Mesh(s.solid, woodMaterial(p.colour, p.sheet, i));
      const ink = new LineSegments(s.ink, this.ink);
      const q = p.pose;
      const place = new Matrix4().set(q[0], q[3], q[6], q[9], q[1], q[4], q[7], q[10], q[2], q[5], q[8], q[11], 0, 0, 0, 1);
      for (const o of [mesh, ink]) {
        o.matrixAutoUpdate = false;
        o.matrix.copy(place);
        group.add(o);
      }
      this.bodies[p.body].add(group);
      this.shown.push({ body: p.body, group, mesh, ink, part: p.part, id: p.id });
    });
  }

  /** pose puts pieces and bodies where pulling and turning has them. */
  private pose(): void {
    const scene = this.scene;
    if (!scene) return;
    const off = legOffsets(scene.pieces.length, this.apart ?? [], this.pulled);
    this.shown.forEach((s, i) => s.group.position.set(off[i][0], off[i][1], off[i][2]));
    scene.bodies.forEach((b, i) => {
      const angle = b.kind ? (this.turned[b.name] ?? 0) : 0;
      const at = new Vector3(...b.at);
      const turn = new Quaternion().setFromAxisAngle(new Vector3(...b.axis), angle);
      const g = this.bodies[i];
      g.quaternion.copy(turn);
      g.position.copy(at).sub(at.clone().applyQuaternion(turn)); // about the axis, not the origin
    });
    this.draw();
  }

  /** mark shows what is looked at: the places of a finding, the parts that a size changes. */
  private mark(m: Model): void {
    this.marks.clear();
    const look = m.look;
    const f = look?.finding ? findingsOf(m.open).find((x) => x.id === look.finding) : undefined;
    const pieces = new Set<string>(f ? f.places.map((p) => p.piece) : []);
    for (const s of this.shown) {
      const on = look?.parts ? look.parts.includes(s.part) : pieces.has(s.id) || [...pieces].some((p) => s.id.startsWith(p + "/"));
      const wood = s.mesh.material as ReturnType<typeof woodMaterial>;
      wood.emissive.set(on ? 0x5a1a10 : 0x000000);
      wood.transparent = !!f && !on;
      wood.opacity = wood.transparent ? 0.35 : 1;
      wood.depthWrite = !wood.transparent;
    }
    if (f) for (const p of f.places) this.marks.add(pin(f, p.at_mm));
  }
}

const pinSize = 2.2; // mm

function pin(f: Finding, at: [number, number, number]): Mesh {
  const m = new Mesh(new SphereGeometry(pinSize, 16, 12), new MeshBasicMaterial({ color: f.verdict === "fails" ? 0xb3261e : 0xb3402a, depthTest: false }));
  m.renderOrder = 10;
  m.position.set(...at);
  return m;
}

function geometry(m: Shape): { solid: BufferGeometry; ink: BufferGeometry } {
  const corners = floats(m.corners), triangles = whole(m.triangles);
  const flat = new Float32Array(triangles.length * 3);
  triangles.forEach((c, i) => flat.set(corners.subarray(3 * c, 3 * c + 3), 3 * i));
  const solid = new BufferGeometry();
  solid.setAttribute("position", new BufferAttribute(flat, 3));
  solid.computeVertexNormals();
  const ink = new BufferGeometry();
  ink.setAttribute("position", new BufferAttribute(floats(m.edges), 3));
  return { solid, ink };
}
