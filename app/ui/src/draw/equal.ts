// Equal spacing: a place that is dragged midway between two others, or as far from its neighbour as
// that one is from the next.

/** Equal is where a place has equal spacing, along one axis. */
export interface Equal {
  at: number;
  gap: number; // that is twice there
  marks: [[number, number], [number, number]]; // both gaps, from where to where
}

/** same is how near, in mm, two places are one: they are drawn in line, and no gap lies between. */
const same = 0.01;

/** equalAt is the nearest place within reach of raw where spacing is equal among others, places along
 * one axis in mm; null: there is none. Midway goes before as far again where both are as near. */
export function equalAt(raw: number, others: number[], reach: number): Equal | null {
  const sorted = [...others].sort((a, b) => a - b);
  const at = sorted.filter((x, i) => i === 0 || x - sorted[i - 1] > same);
  let best: Equal | null = null;
  const offer = (e: Equal) => {
    if (e.gap > same && Math.abs(e.at - raw) <= reach && (!best || Math.abs(e.at - raw) < Math.abs(best.at - raw) - same)) best = e;
  };
  const right = at.findIndex((x) => x > raw), n = right < 0 ? at.length : right; // between n - 1 and n
  if (n > 0 && n < at.length) {
    const a = at[n - 1], b = at[n], m = (a + b) / 2;
    offer({ at: m, gap: m - a, marks: [[a, m], [m, b]] });
  }
  // As far again, beyond the two on either side. Where one neighbour is nearly reached the place may
  // lie on either side of it, so that the next ones are asked too.
  for (const k of [n - 1, n, n + 1]) {
    const a = at[k - 1], b = at[k];
    if (a === undefined || b === undefined) continue;
    const gap = b - a, beyond = b + gap, before = a - gap;
    if (at[k + 1] === undefined || at[k + 1] > beyond + same) offer({ at: beyond, gap, marks: [[a, b], [b, beyond]] });
    if (at[k - 2] === undefined || at[k - 2] < before - same) offer({ at: before, gap, marks: [[before, a], [a, b]] });
  }
  return best;
}
