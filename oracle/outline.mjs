// Outlines as polygons. The rule for arcs is that of the contract: with a chord
// error of 0.01 mm an arc of radius r and sweep s takes ceil(|s| / (2 acos(1 -
// 0.01/r))) equal chords, ends on the arc; a whole circle the least multiple of 4
// that is at least pi / acos(1 - 0.01/r), and at least 8.

export const CHORD = 0.01;

export function facets(r, chord = CHORD) {
  if (r <= chord) return 8;
  return Math.max(8, 4 * Math.ceil((Math.PI / Math.acos(1 - chord / r) - 1e-9) / 4));
}

export function circle([x, y], r, n = facets(r)) {
  return Array.from({ length: n }, (_, k) => [x + r * Math.cos((2 * Math.PI * k) / n), y + r * Math.sin((2 * Math.PI * k) / n)]);
}

const sub = (a, b) => [a[0] - b[0], a[1] - b[1]];
const len = (a) => Math.hypot(a[0], a[1]);

// arc returns the points of an arc after its first, its last included.
function arc(from, centre, sweep, to) {
  const r = len(sub(from, centre));
  const n = Math.max(1, Math.ceil(Math.abs(sweep) / (2 * Math.acos(1 - CHORD / r))));
  const start = Math.atan2(from[1] - centre[1], from[0] - centre[0]);
  const out = [];
  for (let k = 1; k < n; k++) {
    const a = start + (sweep * k) / n;
    out.push([centre[0] + r * Math.cos(a), centre[1] + r * Math.sin(a)]);
  }
  out.push(to);
  return out;
}

// arcThrough is the arc from a by way of b to c.
function arcThrough(a, b, c) {
  const d = 2 * (a[0] * (b[1] - c[1]) + b[0] * (c[1] - a[1]) + c[0] * (a[1] - b[1]));
  const q = (p) => p[0] * p[0] + p[1] * p[1];
  const o = [(q(a) * (b[1] - c[1]) + q(b) * (c[1] - a[1]) + q(c) * (a[1] - b[1])) / d, (q(a) * (c[0] - b[0]) + q(b) * (a[0] - c[0]) + q(c) * (b[0] - a[0])) / d];
  const left = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) > 0; // counter-clockwise
  let sweep = Math.atan2(c[1] - o[1], c[0] - o[0]) - Math.atan2(a[1] - o[1], a[0] - o[0]);
  while (left && sweep <= 0) sweep += 2 * Math.PI;
  while (!left && sweep >= 0) sweep -= 2 * Math.PI;
  return arc(a, o, sweep, c);
}

// rounded joins corners {p, r, through}: an r is the arc tangent to both sides.
export function rounded(corners) {
  const n = corners.length;
  const ends = corners.map((c, i) => {
    if (!c.r) return { a: c.p, b: c.p };
    const toward = (q) => { const d = sub(q, c.p); return [d[0] / len(d), d[1] / len(d)]; };
    const u = toward(corners[(i + n - 1) % n].p), v = toward(corners[(i + 1) % n].p);
    const cos = u[0] * v[0] + u[1] * v[1];
    const half = Math.acos(Math.max(-1, Math.min(1, cos))) / 2; // half the angle between the sides
    if (Math.abs(half - Math.PI / 2) < 1e-9) return { a: c.p, b: c.p };
    const back = c.r / Math.tan(half), out = c.r / Math.sin(half);
    const m = [u[0] + v[0], u[1] + v[1]], l = len(m);
    const turn = v[0] * -u[1] - v[1] * -u[0] < 0 ? 1 : -1; // the way on is -u; does v lie to its left?
    return {
      a: [c.p[0] + u[0] * back, c.p[1] + u[1] * back],
      b: [c.p[0] + v[0] * back, c.p[1] + v[1] * back],
      o: [c.p[0] + (m[0] / l) * out, c.p[1] + (m[1] / l) * out],
      sweep: turn * (Math.PI - 2 * half),
    };
  });
  const out = [];
  for (let i = 0; i < n; i++) {
    const before = ends[(i + n - 1) % n].b, e = ends[i];
    if (corners[i].through) out.push(...arcThrough(before, corners[i].through, e.a));
    else out.push(e.a);
    if (e.o) out.push(...arc(e.a, e.o, e.sweep, e.b));
  }
  return out;
}

// mirrored completes half an outline over the line through its last corner.
export function mirrored(half, how) {
  const last = half[half.length - 1].p;
  const flip = (p) => (how === 'along' ? [p[0], 2 * last[1] - p[1]] : [2 * last[0] - p[0], p[1]]);
  const all = half.map((c) => ({ ...c }));
  for (let i = half.length - 1; i >= 0; i--) {
    const through = half[i + 1]?.through && flip(half[i + 1].through);
    const p = flip(half[i].p);
    if ((i === 0 || i === half.length - 1) && len(sub(p, half[i].p)) <= 2e-9) {
      if (i === 0) all[0].through = through;
      continue;
    }
    all.push({ p, r: half[i].r, through });
  }
  return all;
}

// svg reads path data of straight steps and arcs of circles; y is up as drawn.
export function svg(d, unit) {
  const tokens = d.match(/[a-zA-Z]|[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?/g);
  const pts = [];
  let at = [0, 0], cmd = '', i = 0;
  const num = () => +tokens[i++];
  while (i < tokens.length) {
    if (/[a-zA-Z]/.test(tokens[i])) cmd = tokens[i++];
    const base = cmd === cmd.toLowerCase() ? at : [0, 0];
    switch (cmd.toUpperCase()) {
      case 'M': case 'L': at = [base[0] + num(), base[1] + num()]; pts.push(at); if (cmd === 'M') cmd = 'L'; if (cmd === 'm') cmd = 'l'; break;
      case 'H': at = [base[0] + num(), at[1]]; pts.push(at); break;
      case 'V': at = [at[0], base[1] + num()]; pts.push(at); break;
      case 'A': {
        const r = num(), ry = num(); num();
        const large = num(), positive = num(), to = [base[0] + num(), base[1] + num()];
        if (r !== ry) throw new Error('the oracle reads arcs of circles only');
        const chord = sub(to, at), l = len(chord), radius = Math.max(r, l / 2);
        const h = Math.sqrt(Math.max(0, radius * radius - (l * l) / 4)) * (large === positive ? -1 : 1);
        const o = [(at[0] + to[0]) / 2 - (chord[1] / l) * h, (at[1] + to[1]) / 2 + (chord[0] / l) * h];
        let s = Math.atan2(to[1] - o[1], to[0] - o[0]) - Math.atan2(at[1] - o[1], at[0] - o[0]);
        if (positive && s < 0) s += 2 * Math.PI;
        if (!positive && s > 0) s -= 2 * Math.PI;
        const mm = (p) => [p[0] * unit, p[1] * unit];
        pts.push(...arc(mm(at), mm(o), s, mm(to)).map((p) => [p[0] / unit, p[1] / unit]));
        at = to;
        break;
      }
      case 'Z': break;
      default: throw new Error(`the oracle does not read the path command ${cmd}`);
    }
  }
  return pts.map((p) => [p[0] * unit, p[1] * unit]);
}

// clean drops repeated points and turns the polygon counter-clockwise.
export function clean(poly) {
  const out = poly.filter((p, i) => len(sub(p, poly[(i + poly.length - 1) % poly.length])) > 1e-9);
  let area = 0;
  out.forEach((p, i) => { const q = out[(i + 1) % out.length]; area += p[0] * q[1] - p[1] * q[0]; });
  return area < 0 ? out.reverse() : out;
}
