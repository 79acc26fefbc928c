// Frames, and solids made with manifold-3d.
import Module from 'manifold-3d';

const wasm = await Module();
wasm.setup();
export const { Manifold } = wasm;

export const add = (a, b) => a.map((x, i) => x + b[i]);
export const scale = (a, s) => a.map((x) => x * s);
export const dot = (a, b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a, b) => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
export const unit = (a) => scale(a, 1 / Math.hypot(...a));

// A frame is {u, v, w, o}: the point (x, y, z) of it is x u + y v + z w + o.
export const identity = { u: [1, 0, 0], v: [0, 1, 0], w: [0, 0, 1], o: [0, 0, 0] };
export const frameOf = (p) => ({ u: p.slice(0, 3), v: p.slice(3, 6), w: p.slice(6, 9), o: p.slice(9, 12) });
export const dir = (f, d) => add(add(scale(f.u, d[0]), scale(f.v, d[1])), scale(f.w, d[2]));
export const point = (f, p) => add(dir(f, p), f.o);
export const inFrame = (f, g) => ({ u: dir(f, g.u), v: dir(f, g.v), w: dir(f, g.w), o: point(f, g.o) }); // g, given in f, in the world
export function inverse(f) {
  const g = { u: [f.u[0], f.v[0], f.w[0]], v: [f.u[1], f.v[1], f.w[1]], w: [f.u[2], f.v[2], f.w[2]], o: [0, 0, 0] };
  g.o = scale(dir(g, f.o), -1);
  return g;
}
export const moved = (solid, f) => solid.transform([...f.u, 0, ...f.v, 0, ...f.w, 0, ...f.o, 1]);

// checked refuses the silently empty solid that a bad input gives.
export function checked(solid, what) {
  if (solid.status() !== 'NoError' || solid.isEmpty()) throw new Error(`${what}: ${solid.isEmpty() ? 'empty' : ''} ${solid.status()}`);
  return solid;
}

// prism extrudes a counter-clockwise polygon along w of the frame.
export function prism(poly, lo, hi, f) {
  return moved(checked(Manifold.extrude([poly], hi - lo), 'prism').translate([0, 0, lo]), f);
}

// measured returns volume and centre of volume by summing tetrahedra over the
// triangles of the mesh. The mesh comes in single precision, so the corners are
// taken in double precision by a warp that moves nothing.
export function measured(solid) {
  const mesh = solid.getMesh();
  let v;
  const same = solid.warpBatch((verts) => { v = Float64Array.from(verts); });
  same.numTri();
  if (!v || v.length !== mesh.vertProperties.length || mesh.numProp !== 3) throw new Error('the corners of the mesh do not match');
  for (let i = 0; i < v.length; i++) if (Math.fround(v[i]) !== mesh.vertProperties[i]) throw new Error('the order of the corners does not match');
  same.delete();
  const box = solid.boundingBox();
  const o = scale(add(box.min, box.max), 0.5);
  let six = 0;
  const first = [0, 0, 0];
  for (let t = 0; t < mesh.triVerts.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => [0, 1, 2].map((x) => v[3 * mesh.triVerts[t + k] + x] - o[x]));
    const det = dot(a, cross(b, c));
    six += det;
    for (let x = 0; x < 3; x++) first[x] += det * (a[x] + b[x] + c[x]);
  }
  return { volume: six / 6, centre: first.map((x, i) => x / 4 / six + o[i]) };
}
