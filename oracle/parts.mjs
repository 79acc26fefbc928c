// From the text of a toy file to solids, by a reading of its own: the blank, the
// work on it in the order of the file, and the work on a glue-up carried into
// each of its pieces. Where pieces lie in space is not read here.
import { parse } from 'yaml';
import { evaluate, length } from './formula.mjs';
import { circle, clean, facets, mirrored, rounded, svg } from './outline.mjs';
import { Manifold, add, checked, cross, dir, dot, identity, inFrame, moved, point, prism, scale, unit } from './solid.mjs';

const CLEAR = 1; // a through cut reaches this far out of the wood, mm
const SIDES = { face: 'top', 'other-face': 'bottom', edge: 'right', 'other-edge': 'left', end: 'front', 'other-end': 'back' };

// sideFrame: u to the right, v up, w out of the wood, as one who looks at the side
// sees it; o is the lower left corner.
function sideFrame(word, [x, y, z]) {
  switch (SIDES[word] ?? word) {
    case 'top': return { u: [1, 0, 0], v: [0, 1, 0], w: [0, 0, 1], o: [0, 0, z] };
    case 'bottom': return { u: [1, 0, 0], v: [0, -1, 0], w: [0, 0, -1], o: [0, y, 0] };
    case 'right': return { u: [1, 0, 0], v: [0, 0, 1], w: [0, -1, 0], o: [0, 0, 0] };
    case 'left': return { u: [-1, 0, 0], v: [0, 0, 1], w: [0, 1, 0], o: [x, y, 0] };
    case 'front': return { u: [0, 1, 0], v: [0, 0, 1], w: [1, 0, 0], o: [x, 0, 0] };
    case 'back': return { u: [0, -1, 0], v: [0, 0, 1], w: [-1, 0, 0], o: [0, y, 0] };
  }
  throw new Error(`no side ${word}`);
}

// extent returns width and height of a side as seen.
const extent = (f, size) => [Math.abs(dot(f.u, size)), Math.abs(dot(f.v, size))];

// depths returns the span of a box {min, max} along w of a frame, from its o.
function depths(f, box) {
  let lo = Infinity, hi = -Infinity;
  for (let i = 0; i < 8; i++) {
    const corner = [0, 1, 2].map((k) => (i >> k & 1 ? box.max[k] : box.min[k]));
    const d = dot(f.w, add(corner, scale(f.o, -1)));
    lo = Math.min(lo, d);
    hi = Math.max(hi, d);
  }
  return [lo, hi];
}

export class Toy {
  constructor(text) {
    this.doc = parse(text, { schema: 'failsafe' }); // every scalar as it is written
    this.unit = this.doc.units === 'inch' ? 25.4 : 1;
    this.open = new Set();
  }

  // named gives the value of a size, or of a part's or stock's dimension.
  named(name) {
    if (this.open.has(name)) throw new Error(`${name} goes round in a circle`);
    this.open.add(name);
    try {
      const sizes = this.doc.sizes ?? {};
      if (name in sizes) return evaluate(sizes[name], (n) => this.named(n), this.unit);
      const dot = name.indexOf('.');
      if (dot < 0) return undefined;
      const [owner, what] = [name.slice(0, dot), name.slice(dot + 1)];
      const stock = this.doc.stock[owner], part = this.doc.parts[this.original(owner)];
      if (stock && what in stock) return length(this.mm(stock[what]));
      if (!part) return undefined;
      const from = this.doc.stock[part.from];
      const text = { length: part.blank?.[0] ?? part.length, width: part.blank?.[1], thick: from.thick, dia: part.disc ?? from.dia, bore: part.bore }[what];
      return text === undefined ? undefined : length(this.mm(text));
    } finally {
      this.open.delete(name);
    }
  }

  value(text, own = {}) {
    return evaluate(text, (n) => (n in own ? length(own[n]) : this.named(n)), this.unit);
  }

  mm(text, own) {
    const v = this.value(text, own);
    if (v.kind === 'angle' || v.kind === 'number') throw new Error(`${text} is no length`);
    return v.kind === 'bare' ? v.n * this.unit : v.n;
  }

  // original is the part that has the blank: the one that it mirrors, or itself.
  original(name) {
    return this.doc.parts[name]?.mirrors ?? name;
  }

  blank(name, rodLength) {
    const part = this.doc.parts[this.original(name)], from = this.doc.stock[part.from];
    switch (from.form) {
      case 'dowel': {
        const d = this.mm(from.dia);
        return { shape: 'rod', size: [part.length === undefined ? rodLength : this.mm(part.length), d, d] };
      }
      case 'ball': {
        const d = this.mm(from.dia);
        return { shape: 'ball', size: [d, d, d] };
      }
    }
    const thick = this.mm(from.thick);
    if (part.disc !== undefined) {
      const d = this.mm(part.disc);
      return { shape: 'disc', size: [d, d, thick], bore: part.bore === undefined ? 0 : this.mm(part.bore) };
    }
    return { shape: 'block', size: [this.mm(part.blank[0]), this.mm(part.blank[1]), thick] };
  }

  // work turns operations into cutters {keep | cut | bore}, drawn on the sides of
  // a blank of that size. reach is the box of all the wood they go through.
  work(list, size, reach, flush) {
    const own = { length: size[0], width: size[1], thick: size[2] };
    const out = [];
    for (const item of list ?? []) {
      const [kind, w] = Object.entries(item)[0];
      if (kind === 'round' || kind === 'chamfer') continue; // arrises stay square in the solids
      const f = sideFrame(w.side, size);
      const [wide, high] = extent(f, size);
      const mm = (t) => this.mm(t, own);
      const xy = (p) => [this.mm(p[0], { ...own, middle: wide / 2 }), this.mm(p[1], { ...own, middle: high / 2 })];
      const [lo, hi] = depths(f, reach);
      const cut = (poly) => out.push({ cut: true, poly: clean(poly), f, lo: w.depth === undefined ? lo - CLEAR : hi - mm(w.depth), hi: hi + CLEAR });
      switch (kind) {
        case 'drill': out.push(...this.drill(w, f, lo, hi, mm, xy)); break;
        case 'saw': out.push({ keep: true, poly: clean(this.outline(w.outline, mm, xy)), f, lo: lo - CLEAR, hi: hi + CLEAR }); break;
        case 'cut-out': case 'cut-in': cut(this.outline(w.outline, mm, xy)); break;
        case 'notch': {
          const a = xy(w.at), s = xy(w.size);
          cut([a, [a[0] + s[0], a[1]], [a[0] + s[0], a[1] + s[1]], [a[0], a[1] + s[1]]]);
          break;
        }
        case 'groove': {
          const a = xy(w.from), b = xy(w.to), h = mm(w.wide) / 2;
          const g = Math.abs(a[1] - b[1]) < 1e-9 ? [0, h] : [h, 0]; // half the width, across
          const [x0, x1] = [Math.min(a[0], b[0]) - g[0], Math.max(a[0], b[0]) + g[0]];
          const [y0, y1] = [Math.min(a[1], b[1]) - g[1], Math.max(a[1], b[1]) + g[1]];
          cut([[x0, y0], [x1, y0], [x1, y1], [x0, y1]]);
          break;
        }
        case 'sand-flush': {
          const far = flush(w.with, f);
          const big = 1e4;
          out.push({ cut: true, poly: [[-big, -big], [big, -big], [big, big], [-big, big]], f, lo: far, hi: far + big });
          break;
        }
        default: throw new Error(`the oracle does not know the work ${kind}`);
      }
    }
    return out;
  }

  drill(w, f, lo, hi, mm, xy) {
    const places = [...(w.at ?? []).map(xy), ...Object.values(w.named ?? {}).map(xy)];
    if (w.row) {
      const from = xy(w.row.from), step = xy(w.row.step);
      for (let i = 0; i < +w.row.count; i++) places.push([from[0] + i * step[0], from[1] + i * step[1]]);
    }
    const r = mm(w.dia) / 2;
    let inward = scale(f.w, -1), slant = 0;
    if (w.lean) {
      slant = this.value(w.lean.by).n;
      const to = { right: f.u, left: scale(f.u, -1), up: f.v, down: scale(f.v, -1) }[w.lean.toward];
      inward = add(scale(inward, Math.cos(slant)), scale(to, Math.sin(slant)));
    }
    const over = slant ? r * Math.tan(slant) : 0;
    const out = [];
    for (const [x, y] of places) {
      const mouth = point(f, [x, y, hi]);
      const start = -CLEAR - over, through = (hi - lo) / Math.cos(slant) + CLEAR + over;
      out.push({ bore: true, mouth, inward, r, lo: start, hi: w.depth === undefined ? through : mm(w.depth) });
      if (w.counterbore) out.push({ bore: true, mouth, inward, r: mm(w.counterbore.dia) / 2, lo: start, hi: mm(w.counterbore.depth) });
    }
    return out;
  }

  outline(o, mm, xy) {
    const corners = (list) => list.map((c) => {
      if (!Array.isArray(c)) return { p: xy(c.to), through: xy(c.through), r: c.r === undefined ? 0 : mm(c.r) };
      return { p: xy(c), r: c.length > 2 ? mm(c[2].trim().replace(/^r /, '')) : 0 };
    });
    if (Array.isArray(o)) return rounded(corners(o));
    if (o.points) return rounded(o.mirror ? mirrored(corners(o.points), o.mirror) : corners(o.points));
    if (o.circle) return circle(xy(o.circle), mm(o.dia) / 2);
    if (o.path) return svg(o.path, this.unit);
    const a = xy(o.rect), s = xy(o.size), r = o.r === undefined ? 0 : mm(o.r);
    return rounded([a, [a[0] + s[0], a[1]], [a[0] + s[0], a[1] + s[1]], [a[0], a[1] + s[1]]].map((p) => ({ p, r })));
  }

  // made returns the solid of a part in the frame of its blank, its holes open or
  // (filled) still closed. more are cutters of a glue-up, in that frame.
  made(name, rodLength, more = [], filled = false) {
    const { shape, size, bore } = this.blank(name, rodLength);
    if (this.original(name) !== name) { // the finished solid in a mirror, then the work of a glue-up
      const image = this.made(this.original(name), rodLength, [], filled).mirror([0, 1, 0]).translate([0, size[1], 0]);
      return checked(cutBy(image, more, filled), name);
    }
    const cutters = this.work(this.doc.parts[name].work, size, { min: [0, 0, 0], max: size });
    if (bore) cutters.unshift({ bore: true, mouth: [size[0] / 2, size[1] / 2, 0], inward: [0, 0, 1], r: bore / 2, lo: -CLEAR, hi: size[2] + CLEAR });
    return checked(cutBy(blankSolid(shape, size), [...cutters, ...more], filled), name);
  }

  // glueUp returns the cutters of a glue-up's work for each of its pieces
  // {part, id, length, frame}; all frames in one space.
  glueUp(name, pieces) {
    const list = this.doc['glue-ups'][name].work;
    if (!list) return pieces.map(() => []);
    const first = pieces[0].frame;
    const back = (f) => inverseThen(first, f);
    const box = (f, g) => { // of a piece as its own work left it, in the frame f
      const b = moved(this.made(g.part, g.length, [], true), inverseThen(f, g.frame)).boundingBox();
      return b;
    };
    const reach = { min: [Infinity, Infinity, Infinity], max: [-Infinity, -Infinity, -Infinity] };
    for (const p of pieces) {
      const b = box(first, p);
      for (let k = 0; k < 3; k++) {
        reach.min[k] = Math.min(reach.min[k], b.min[k]);
        reach.max[k] = Math.max(reach.max[k], b.max[k]);
      }
    }
    const size = this.blank(pieces[0].part, pieces[0].length).size;
    const flush = (id, f) => box(inFrame(first, f), pieces.find((p) => p.id === id)).max[2];
    const cutters = this.work(list, size, reach, flush);
    return pieces.map((p) => {
      const to = inverseThen(p.frame, first);
      return cutters.map((c) => (c.bore ? { ...c, mouth: point(to, c.mouth), inward: dir(to, c.inward) } : { ...c, f: inFrame(to, c.f) }));
    });
  }
}

function cutBy(solid, cutters, filled) {
  for (const c of cutters) {
    if (c.bore && filled) continue;
    const tool = c.bore ? drilled(c) : prism(c.poly, c.lo, c.hi, c.f);
    solid = c.keep ? solid.intersect(tool) : solid.subtract(tool);
  }
  return solid;
}

// inverseThen returns g, a frame in the world, as seen from the frame f.
function inverseThen(f, g) {
  const local = (d) => [dot(f.u, d), dot(f.v, d), dot(f.w, d)];
  return { u: local(g.u), v: local(g.v), w: local(g.w), o: local(add(g.o, scale(f.o, -1))) };
}

// drilled is the hole as a prism: its facets start, for a hole square to a side,
// on the first coordinate axis that it does not run along; for a leaning one on
// the part of x (of y, where the hole runs nearly along x) that is square to it.
function drilled({ mouth, inward, r, lo, hi }) {
  const start = Math.abs(inward[0]) > 0.9 ? [0, 1, 0] : [1, 0, 0];
  const v = unit(cross(inward, start));
  return prism(circle([0, 0], r), lo, hi, { u: cross(v, inward), v, w: inward, o: mouth });
}

function blankSolid(shape, [x, y, z]) {
  switch (shape) {
    case 'block': return Manifold.cube([x, y, z]);
    case 'disc': return prism(circle([0, 0], x / 2), 0, z, { ...identity, o: [x / 2, y / 2, 0] });
    case 'rod': return prism(circle([0, 0], z / 2), 0, x, { u: [0, 1, 0], v: [0, 0, 1], w: [1, 0, 0], o: [0, y / 2, z / 2] });
  }
  // A ball: rings of n points, poles up and down, the sag of both directions
  // together at most 0.1 mm.
  const r = x / 2, n = facets(r, 0.05), pts = [[r, r, 0], [r, r, 2 * r]];
  for (let i = 1; i < n / 2; i++) {
    const a = (2 * Math.PI * i) / n;
    for (const [px, py] of circle([0, 0], r * Math.sin(a), n)) pts.push([r + px, r + py, r - r * Math.cos(a)]);
  }
  return checked(Manifold.hull(pts), 'ball');
}
