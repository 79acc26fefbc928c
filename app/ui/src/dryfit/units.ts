// Lengths as they are said on this page, in the units of its user.

import { exactWithin, inch, onMark, written } from "../draw/lengths";

/** said is a length with its unit. What no mark of a rule says is "about". */
export function said(mm: number, units: string): string {
  if (units !== "inch") return `${+mm.toFixed(mm < 10 ? 2 : 1)} mm`;
  const finest = inch / 64;
  const text = mm > exactWithin && mm < finest / 2 ? "less than 1/64" : written(mm, units);
  return (!onMark(mm) && !text.startsWith("less") ? "about " : "") + text + " in";
}

export function degrees(angle: number): string {
  const d = (angle * 180) / Math.PI;
  return `${Math.round(d * 10) / 10}°`;
}
