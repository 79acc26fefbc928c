// Lengths as they are said on this page, in the units of the toy.

import { inch, written } from "../draw/lengths";

/** exactWithin is how far, in mm, a fraction may be off and still be said without "about". */
const exactWithin = 0.01;

/** said is a length with its unit. What no mark of a rule says is "about". */
export function said(mm: number, units: string): string {
  if (units !== "inch") return `${+mm.toFixed(mm < 10 ? 2 : 1)} mm`;
  const finest = inch / 64;
  const off = Math.abs(mm - Math.round(mm / finest) * finest);
  const text = mm > exactWithin && mm < finest / 2 ? "less than 1/64" : written(mm, units);
  return (off > exactWithin && !text.startsWith("less") ? "about " : "") + text + " in";
}

export function degrees(angle: number): string {
  const d = (angle * 180) / Math.PI;
  return `${Math.round(d * 10) / 10}°`;
}
