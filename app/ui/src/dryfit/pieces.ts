// The pieces as they are drawn: a shape is unpacked once, a piece is kept as long as its shape is
// the same.

import { BufferAttribute, BufferGeometry, Group, LineBasicMaterial, LineSegments, Matrix4, Mesh, ShaderMaterial } from "three";
import type { Mesh as Sent, Piece, Scene } from "../protocol";
import { floats, whole } from "./bytes";
import { fewer } from "./fewer";
import { normalOf, triangleOf, type Shape } from "./measure";
import type { Pose, Vec } from "./space";
import { woodMaterial, type Light } from "./wood";

/** Form is a shape with what is drawn of it. */
export interface Form extends Shape {
  solid: BufferGeometry;
  ink: BufferGeometry;
}

/** Drawn is a piece in the picture. */
export interface Drawn {
  piece: Piece;
  form: Form;
  group: Group;
  mesh: Mesh<BufferGeometry, ShaderMaterial>;
  ink: LineSegments;
  pose: Pose; // where it is just now
}

/** shadeless is the layer of what throws no shadow. */
export const shadeless = 1;

export class Pieces {
  readonly group = new Group();
  readonly ink = new LineBasicMaterial({ transparent: true, opacity: 0.8 });
  readonly faint = new LineBasicMaterial({ transparent: true, opacity: 0.16 }); // of what is seen through
  drawn: Drawn[] = [];
  /** How many shapes have been unpacked, for those who watch what a change costs. */
  unpacked = 0;
  private readonly forms = new Map<string, Form>();

  constructor(private readonly light: Light) {}

  build(scene: Scene): void {
    const used = new Set(scene.pieces.map((p) => p.shape));
    for (const [key, f] of this.forms) if (!used.has(key)) this.forget(key, f);
    const sizes = new Map(scene.meshes.map((m) => [m.key, m.size]));
    for (const m of scene.meshes) {
      if (this.forms.has(m.key)) continue;
      this.forms.set(m.key, formOf(m));
      this.unpacked++;
    }
    const before = new Map(this.drawn.map((d) => [d.piece.id, d]));
    this.drawn = [];
    scene.pieces.forEach((p, i) => {
      const form = this.forms.get(p.shape);
      if (!form) return;
      const old = before.get(p.id);
      if (old && old.form === form && old.piece.wood === p.wood && old.piece.sheet === p.sheet) {
        before.delete(p.id);
        old.piece = p;
        this.drawn.push(old);
        return;
      }
      this.drawn.push(this.draw(p, form, sizes.get(p.shape)!, i));
    });
    for (const d of before.values()) this.drop(d);
  }

  private draw(piece: Piece, form: Form, size: [number, number, number], seed: number): Drawn {
    const group = new Group();
    const mesh = new Mesh(form.solid, woodMaterial(piece, size, seed, this.light));
    const ink = new LineSegments(form.ink, this.ink);
    ink.layers.set(shadeless);
    group.matrixAutoUpdate = false;
    group.add(mesh, ink);
    this.group.add(group);
    return { piece, form, group, mesh, ink, pose: piece.pose };
  }

  /** put places a piece. */
  put(d: Drawn, p: Pose): void {
    d.pose = p;
    d.group.matrix.copy(matrixOf(p));
    d.group.matrixWorldNeedsUpdate = true;
  }

  end(): void {
    for (const d of this.drawn) this.drop(d);
    for (const [key, f] of this.forms) this.forget(key, f);
    this.ink.dispose();
    this.faint.dispose();
  }

  private drop(d: Drawn): void {
    this.group.remove(d.group);
    d.mesh.material.dispose();
  }

  private forget(key: string, f: Form): void {
    f.solid.dispose();
    f.ink.dispose();
    this.forms.delete(key);
  }
}

export function matrixOf(q: Pose): Matrix4 {
  return new Matrix4().set(q[0], q[3], q[6], q[9], q[1], q[4], q[7], q[10], q[2], q[5], q[8], q[11], 0, 0, 0, 1);
}

function formOf(m: Sent): Form {
  const shape = fewer({ corners: floats(m.corners), triangles: whole(m.triangles), faces: whole(m.faces) });
  const ink = new BufferGeometry();
  ink.setAttribute("position", new BufferAttribute(floats(m.edges), 3));
  return { ...shape, solid: solidOf(shape), ink };
}

/** solidOf has each corner once for each way that it is shaded, so that no more are worked on than
 * there are. Its triangles are in the order of the shape's. */
function solidOf(s: Shape): BufferGeometry {
  const normal = normals(s);
  const known = new Map<string, number>();
  const place: number[] = [], way: number[] = [], index: number[] = [];
  s.triangles.forEach((c, i) => {
    const n = [normal[3 * i], normal[3 * i + 1], normal[3 * i + 2]];
    const key = [c, ...n.map((x) => Math.round(x * 1000))].join();
    let k = known.get(key);
    if (k === undefined) {
      known.set(key, (k = known.size));
      place.push(s.corners[3 * c], s.corners[3 * c + 1], s.corners[3 * c + 2]);
      way.push(...n);
    }
    index.push(k);
  });
  const out = new BufferGeometry();
  out.setAttribute("position", new BufferAttribute(new Float32Array(place), 3));
  out.setAttribute("normal", new BufferAttribute(new Float32Array(way), 3));
  out.setIndex(index);
  return out;
}

/** roundWithin is the cosine of the angle up to which facets of one face are shaded as round: more
 * than facets of holes and rounded corners have between them. */
const roundWithin = Math.cos((40 * Math.PI) / 180);

/** normals are those of the facets, evened out where facets of one round face meet. */
function normals(s: Shape): Float32Array {
  const n = s.faces.length;
  const own: Vec[] = [];
  const at = new Map<string, number[]>(); // the triangles of a face at a corner
  for (let i = 0; i < n; i++) {
    own.push(normalOf(triangleOf(s, i)));
    for (let k = 0; k < 3; k++) {
      const key = s.faces[i] + ":" + s.triangles[3 * i + k];
      const list = at.get(key);
      if (list) list.push(i);
      else at.set(key, [i]);
    }
  }
  const out = new Float32Array(n * 9);
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < 3; k++) {
      const seen: Vec[] = [];
      for (const j of at.get(s.faces[i] + ":" + s.triangles[3 * i + k])!) {
        const m = own[j];
        const near = m[0] * own[i][0] + m[1] * own[i][1] + m[2] * own[i][2];
        // each direction once: how many triangles a facet is cut into says nothing
        if (near > roundWithin && !seen.some((o) => Math.abs(o[0] - m[0]) + Math.abs(o[1] - m[1]) + Math.abs(o[2] - m[2]) < 1e-3)) seen.push(m);
      }
      const sum = seen.reduce((a, m) => [a[0] + m[0], a[1] + m[1], a[2] + m[2]], [0, 0, 0]);
      const l = Math.hypot(sum[0], sum[1], sum[2]) || 1;
      out.set([sum[0] / l, sum[1] / l, sum[2] / l], 9 * i + 3 * k);
    }
  }
  return out;
}
