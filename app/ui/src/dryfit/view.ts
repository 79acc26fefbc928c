// The toy in three dimensions. Drawn only when something has changed; what is shown comes from the
// model, how it stands from the motion, how one looks at it and what is marked stays here.

import { Box3, BufferAttribute, BufferGeometry, Color, DoubleSide, Mesh, MeshBasicMaterial, Scene as Space, Vector3, WebGLRenderer } from "three";
import type { Finding, Leg, Scene } from "../protocol";
import { findingsOf, type Model } from "../store";
import { legOffsets } from "./apart";
import { contactsOf, type Stand } from "./bodies";
import { Eye } from "./camera";
import { Floor } from "./floor";
import { Hand, type Pick } from "./hand";
import { Marks, type Mark } from "./marks";
import { type Face } from "./measure";
import { Motion } from "./motion";
import { Pieces, matrixOf, shadeless } from "./pieces";
import { clearest, isOf } from "./seek";
import { Sharpness } from "./sharpness";
import { after, moved, plus, shift, turned, type Pose, type Vec } from "./space";
import type { Light } from "./wood";

export type { Pick } from "./hand";

const sun = new Vector3(0.5, -0.85, 1.15).normalize();

/** squares of the paper on the floor: so many mm, and each such line is strong. */
const squares: Record<string, [number, number]> = { inch: [25.4, 6], mm: [10, 10] };

export class View {
  readonly hand: Hand;
  private readonly space = new Space();
  private readonly renderer: WebGLRenderer;
  private readonly eye: Eye;
  private readonly floor = new Floor(sun);
  private readonly marks: Marks;
  private readonly pieces: Pieces;
  private readonly light: Light = { sun: { value: sun }, warm: { value: new Color() }, fill: { value: new Color() }, ground: { value: new Color() }, floorAt: { value: 0 }, fine: { value: true } };
  private readonly faces: Mesh<BufferGeometry, MeshBasicMaterial>;
  private readonly sharp: Sharpness;
  private readonly watcher: ResizeObserver;
  private readonly unwatch: () => void;
  private scene: Scene | null = null;
  private box = new Box3();
  private drawing = 0;
  private castAnew = true;
  private colours = "";
  private accent = new Color();
  private finding: Finding | undefined;
  private parts: string[] | undefined;
  private chosen: string | null = null;
  private dimensions: Mark[] = [];

  constructor(private readonly place: HTMLElement, readonly motion = new Motion()) {
    this.renderer = new WebGLRenderer({ antialias: false, alpha: true });
    place.append(this.renderer.domElement);
    this.sharp = new Sharpness(this.renderer, () => this.draw(), this.light.fine);
    this.eye = new Eye(this.renderer.domElement, () => this.draw());
    this.pieces = new Pieces(this.light);
    this.marks = new Marks(place);
    this.hand = new Hand(this.renderer.domElement, this.eye, this.pieces, motion);
    this.faces = new Mesh(new BufferGeometry(), new MeshBasicMaterial({ transparent: true, opacity: 0.45, side: DoubleSide, polygonOffset: true, polygonOffsetFactor: -1, polygonOffsetUnits: -2, depthWrite: false }));
    this.faces.layers.set(shadeless);
    this.faces.frustumCulled = false;
    this.space.add(this.pieces.group, this.floor.mesh, this.faces);
    this.unwatch = motion.watch(() => this.pose());
    this.watcher = new ResizeObserver(() => this.resize());
    this.watcher.observe(place);
    place.addEventListener("keydown", this.keys);
    this.resize();
  }

  end(): void {
    this.unwatch();
    this.watcher.disconnect();
    this.place.removeEventListener("keydown", this.keys);
    cancelAnimationFrame(this.drawing);
    this.sharp.end();
    this.hand.end();
    this.pieces.end();
    this.floor.end();
    this.marks.end();
    this.faces.geometry.dispose();
    this.faces.material.dispose();
    this.eye.end();
    this.renderer.dispose();
    this.renderer.domElement.remove();
  }

  /** show brings the picture up to the model. */
  show(m: Model): void {
    const scene = m.open?.scene ?? null;
    const anew = scene !== this.scene;
    if (scene && anew) {
      const first = this.scene === null;
      this.scene = scene;
      this.pieces.build(scene);
      this.place.dataset.unpacked = String(this.pieces.unpacked);
      this.light.floorAt.value = scene.floor;
      this.floor.lay(scene.floor, ...(squares[m.units || (m.open?.toy?.units ?? "mm")] ?? squares.mm));
      this.motion.take(scene, m.open?.apart ?? null);
      if (first) this.home();
    } else if (scene && (m.open?.apart ?? null) !== this.motion.legs) {
      this.motion.take(scene, m.open?.apart ?? null);
    }
    const look = m.look;
    const f = look?.finding ? findingsOf(m.open).find((x) => x.id === look.finding) : undefined;
    if (!anew && f === this.finding && look?.parts === this.parts) return; // findings come in by the dozen
    if (f && f.id !== this.finding?.id) this.seek(f);
    this.finding = f;
    this.parts = look?.parts;
    this.tint();
  }

  /** onPick calls back with every face that is clicked; null beside the toy. It returns a function that ends that. */
  onPick(f: (p: Pick | null) => void): () => void {
    this.hand.onPick = f;
    return () => {
      if (this.hand.onPick === f) this.hand.onPick = () => {};
    };
  }

  /** choose marks a piece. */
  choose(piece: string | null): void {
    this.chosen = piece;
    this.tint();
  }

  /** measured draws dimensions, and faces that they are between. */
  measured(dimensions: Mark[], faces: Face[]): void {
    this.dimensions = dimensions;
    const corners = faces.flatMap((f) => f.triangles.flat(2));
    this.faces.geometry.dispose();
    this.faces.geometry = new BufferGeometry();
    this.faces.geometry.setAttribute("position", new BufferAttribute(new Float32Array(corners), 3));
    this.remark();
  }

  /** pieceOf is a piece as it stands. */
  pieceOf(id: string): Pieces["drawn"][number] | undefined {
    return this.pieces.drawn.find((d) => d.piece.id === id);
  }

  home(): void {
    if (!this.scene) return;
    this.eye.home(this.boxNow());
    this.draw();
  }

  private readonly keys = (e: KeyboardEvent): void => {
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    if (e.key === "Home") this.home();
    else if (!this.eye.key(e.key)) return;
    e.preventDefault();
  };

  private resize(): void {
    const { clientWidth: w, clientHeight: h } = this.place;
    if (w === 0 || h === 0) return;
    this.eye.shape(w, h);
    this.sharp.size(w, h);
    this.draw();
  }

  private draw(): void {
    if (this.drawing) return;
    this.drawing = requestAnimationFrame(() => {
      this.drawing = 0;
      this.paint();
      if (this.castAnew && this.scene) {
        this.castAnew = false;
        this.floor.cast(this.renderer, this.space, this.box);
      }
      this.floor.under(this.eye.controls.target, this.eye.far());
      this.sharp.draw(this.space, this.eye.camera);
      this.marks.draw(this.eye.camera, this.place.clientWidth, this.place.clientHeight);
      this.place.dataset.drawn = String(+(this.place.dataset.drawn ?? 0) + 1);
    });
  }

  /** paint takes the colours of the page's look, by day or in the evening. */
  private paint(): void {
    const style = getComputedStyle(this.place);
    const css = (name: string): string => style.getPropertyValue(name).trim();
    const key = ["--sheet", "--floor-line", "--floor-dark", "--edge", "--accent", "--evening"].map(css).join();
    if (key === this.colours) return;
    this.colours = key;
    const raw = (text: string): Color => new Color().setStyle(text, "srgb-linear"); // shown as it is: no lamp falls on the page
    const evening = css("--evening") === "1";
    this.floor.colours(raw(css("--sheet")), raw(css("--floor-line")), raw(css("--floor-dark")), evening ? 0.65 : 0.46);
    this.pieces.ink.color.setStyle(css("--edge"));
    this.pieces.faint.color.setStyle(css("--ink"));
    this.faces.material.color.setStyle(css("--accent"));
    this.accent = raw(css("--accent"));
    // By day light from a window, in the evening a warm lamp and little else.
    this.light.warm.value.setRGB(...((evening ? [0.66, 0.53, 0.38] : [0.72, 0.66, 0.56]) as Vec), "srgb-linear");
    this.light.fill.value.setRGB(...((evening ? [0.3, 0.3, 0.32] : [0.5, 0.5, 0.5]) as Vec), "srgb-linear");
    this.light.ground.value.setRGB(...((evening ? [0.15, 0.14, 0.13] : [0.33, 0.3, 0.26]) as Vec), "srgb-linear");
    this.tint();
  }

  /** boxNow is what the toy takes up as it stands. */
  private boxNow(): Box3 {
    const box = new Box3();
    for (const d of this.pieces.drawn) {
      d.form.solid.boundingBox ?? d.form.solid.computeBoundingBox();
      box.union(d.form.solid.boundingBox!.clone().applyMatrix4(matrixOf(d.pose)));
    }
    return box;
  }

  /** pose puts the pieces where the motion has them. Pulled apart, the toy is lifted so that nothing
   * goes through the floor, and the picture takes in more. */
  private pose(): void {
    const scene = this.scene;
    if (!scene) return;
    const { stand, pulled, legs } = this.motion;
    const was = this.posed;
    if (was?.scene === scene && was.stand === stand && was.pulled === pulled && (pulled === 0 || was.legs === legs)) return; // as when only how it comes apart has come in
    this.posed = { scene, stand, pulled, legs };
    const poses = this.motion.poses();
    const off = legOffsets(scene.pieces.length, this.motion.legs ?? [], this.motion.pulled);
    const index = new Map(scene.pieces.map((p, i) => [p.id, i]));
    const put = (lift: number): void => {
      for (const d of this.pieces.drawn) {
        const i = index.get(d.piece.id)!;
        const body: Pose = poses[d.piece.body];
        this.pieces.put(d, after(shift(plus(turned(body, off[i]), [0, 0, lift])), after(body, d.piece.pose)));
      }
    };
    put(0);
    let box = this.boxNow();
    if (this.motion.pulled > 0 && box.min.z < scene.floor) {
      put(scene.floor - box.min.z);
      box = this.boxNow();
    }
    if (this.motion.playing) { // it stays in the picture, and the floor goes by
      const by = box.getCenter(new Vector3()).sub(this.box.getCenter(new Vector3()));
      this.eye.along(by.x, by.y);
    } else if (this.wasPulled > 0 || this.motion.pulled > 0) {
      this.eye.widen(this.box, box);
    } else if (this.eye.misses(box)) { // it was rolled out of the picture, or put back from there
      const by = box.getCenter(new Vector3()).sub(this.eye.controls.target);
      this.eye.along(by.x, by.y);
    }
    this.wasPulled = this.motion.pulled;
    this.box = box;
    this.castAnew = true;
    this.tint();
  }

  private wasPulled = 0;
  private posed: { scene: Scene; stand: Stand; pulled: number; legs: Leg[] | null } | null = null; // what the pieces were put by

  /** tint shows what is looked at: the places of a finding, the parts that a size changes, what
   * touches, what is chosen. */
  private tint(): void {
    const scene = this.scene;
    if (!scene) return;
    const touching = this.motion.pulled > 0 ? [] : contactsOf(scene, this.motion.rig, this.motion.stand.angles);
    const found = this.finding?.places.map((p) => p.piece) ?? [];
    for (const d of this.pieces.drawn) {
      const u = d.mesh.material.uniforms;
      const id = d.piece.id;
      let much = 0;
      if (this.parts?.includes(d.piece.part)) much = 0.3;
      if (id === this.chosen) much = 0.22;
      if (isOf(id, found)) much = 0.3;
      if (touching.some((c) => c.piece === id || c.by === id)) much = 0.42;
      u.glow.value.set(this.accent.r, this.accent.g, this.accent.b, much);
      const through = !!this.finding && found.length > 0 && !isOf(id, found);
      u.clear.value = through ? seeThrough : 1;
      d.mesh.material.transparent = through;
      d.mesh.material.depthWrite = !through;
      d.mesh.renderOrder = through ? 2 : 0;
      d.ink.material = through ? this.pieces.faint : this.pieces.ink;
    }
    this.remark();
  }

  /** remark draws the marks that go with what is looked at. */
  private remark(): void {
    const scene = this.scene;
    if (!scene) return;
    const poses = this.motion.poses();
    const marks: Mark[] = [...this.dimensions];
    if (this.motion.pulled === 0) {
      for (const c of contactsOf(scene, this.motion.rig, this.motion.stand.angles)) {
        const b = scene.bodies[c.body];
        marks.push({ kind: "touch", at: moved(poses[b.on], c.at), says: "touches here" });
      }
      for (const p of this.finding?.places ?? []) marks.push({ kind: "pin", at: this.placeNow(p.piece, p.at_mm as Vec), says: "" });
    }
    this.marks.set(marks);
    this.draw();
  }

  /** placeNow is where a place of the toy as drawn is now. */
  private placeNow(piece: string, at: Vec): Vec {
    const d = this.pieceOf(piece) ?? this.pieces.drawn.find((x) => x.piece.id.startsWith(piece + "/"));
    return d ? moved(this.motion.poses()[d.piece.body], at) : at;
  }

  /** seek turns the view so that the place of a finding is seen. */
  private seek(f: Finding): void {
    if (f.places.length === 0 || !this.scene) return;
    const at = this.placeNow(f.places[0].piece, f.places[0].at_mm as Vec);
    this.pieces.group.updateMatrixWorld();
    const far = Math.min(this.eye.far(), this.box.getSize(new Vector3()).length() * nearBy);
    const way = clearest(at, this.eye.from(), f.places.map((p) => p.piece), (from, to) => this.hand.between(from, to, 2 * far).map((d) => d.piece.id));
    this.eye.to(new Vector3(...at), way.multiplyScalar(far));
  }
}

const seeThrough = 0.2; // of pieces that a finding is not about
const nearBy = 1.5; // times the size of the toy that one looks from at most
