// The squares of the drafting paper: true to the rule, so that lengths can be counted off by eye.

import { inch } from "./lengths";

/** steps are the squares that paper is sold with, in mm, and how many of them make a heavy line. */
const steps: Record<string, [number, number][]> = {
  inch: [[inch / 8, 8], [inch / 4, 4], [inch, 12]],
  mm: [[1, 10], [5, 10], [10, 10], [100, 10]],
};

/** most is how many squares across are told apart without counting twice. */
const most = 60;

/** squareOf is the finest square of which not too many go across a paper this wide, in mm. */
export function squareOf(units: string, width: number): [number, number] {
  const list = steps[units];
  return list.find(([mm]) => width / mm <= most) ?? list[list.length - 1];
}

interface Props {
  units: string;
  from: readonly [number, number]; // a crossing of heavy lines
  x: number;
  y: number;
  w: number;
  h: number;
}

/** Squares fills a paper, and what lies beside it on a screen of another shape. */
export function Squares({ units, from, x, y, w, h }: Props) {
  const [mm, heavy] = squareOf(units, w), big = mm * heavy;
  const line = (d: number) => `M0 0H${d}M0 0V${d}`;
  return (
    <g class="squares" aria-hidden="true">
      <pattern id="squares" patternUnits="userSpaceOnUse" x={from[0]} y={from[1]} width={mm} height={mm}><path d={line(mm)} /></pattern>
      <pattern id="heavy-squares" patternUnits="userSpaceOnUse" x={from[0]} y={from[1]} width={big} height={big}><path class="heavy" d={line(big)} /></pattern>
      {["squares", "heavy-squares"].map((id) => <rect key={id} x={x - 2 * w} y={y - 2 * h} width={5 * w} height={5 * h} fill={`url(#${id})`} />)}
    </g>
  );
}

/** squareSays tells what a square is. */
export function squareSays(units: string, width: number): string {
  const [mm] = squareOf(units, width);
  return "squares of " + (units === "inch" ? (mm < inch ? `1/${Math.round(inch / mm)} in` : "1 in") : `${mm} mm`);
}
