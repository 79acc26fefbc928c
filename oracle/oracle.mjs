// An independent reading of toy files with manifold-3d.
//
//   node oracle.mjs TOY.yaml      volume and centre of every part, in the frame of
//                                 its blank (parts whose length follows from the
//                                 build are left out)
//   node oracle.mjs < request     pieces and pairs as `go run ./oracle/dump` writes
//                                 them: placed by its poses, built from the text
import { readFileSync } from 'node:fs';
import { performance } from 'node:perf_hooks';
import { Toy } from './parts.mjs';
import { Manifold, frameOf, measured, moved } from './solid.mjs';

// timed returns the result of f and the middle of so many times, in ms, after a
// first run that warms up.
function timed(times, f) {
  const result = f();
  const ms = [];
  for (let i = 0; i < times; i++) {
    const start = performance.now();
    f();
    ms.push(performance.now() - start);
  }
  return [result, ms.sort((a, b) => a - b)[ms.length >> 1] ?? 0];
}

function answer(request) {
  const solids = request.toys.map((t) => {
    const toy = new Toy(t.text);
    const extra = t.pieces.map(() => []);
    for (const g of t.glue_ups ?? []) {
      const cutters = toy.glueUp(g.name, g.pieces.map((i) => ({ ...t.pieces[i], frame: frameOf(t.pieces[i].pose), id: t.pieces[i].id.split('/').pop() })));
      g.pieces.forEach((i, k) => { extra[i] = cutters[k]; });
    }
    return t.pieces.map((p, i) => toy.made(p.part, p.length, extra[i]));
  });
  const pairs = (request.pairs ?? []).map(({ a, b }) => {
    const put = (end) => { const m = moved(solids[end.toy][end.piece], frameOf(end.pose)); m.numTri(); return m; };
    const p = put(a), q = put(b);
    const [overlap, overlap_ms] = timed(request.times ?? 0, () => {
      const common = Manifold.intersection(p, q);
      const volume = common.volume();
      common.delete();
      return volume;
    });
    const [gap, gap_ms] = timed(request.times ?? 0, () => p.minGap(q, request.search));
    p.delete();
    q.delete();
    return { overlap, gap, overlap_ms, gap_ms };
  });
  return { toys: solids.map((list) => list.map(measured)), pairs };
}

if (process.argv[2]) {
  const toy = new Toy(readFileSync(process.argv[2], 'utf8'));
  const parts = Object.keys(toy.doc.parts).filter((name) => toy.blank(name).size[0] !== undefined);
  console.log(JSON.stringify(parts.map((part) => ({ part, ...measured(toy.made(part)) })), null, 1));
} else {
  process.stdout.write(JSON.stringify(answer(JSON.parse(readFileSync(0, 'utf8')))) + '\n');
}
