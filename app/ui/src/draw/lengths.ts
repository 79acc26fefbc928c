// Lengths between millimetres and what is typed in a file, and the rule that they snap to.

export const inch = 25.4;

export interface Rule {
  id: string;
  name: string;
  mm: number;
}

/** rules are what a rule on the bench is marked in. */
export const rules: Record<string, Rule[]> = {
  inch: [
    { id: "8", name: "1/8 in", mm: inch / 8 },
    { id: "16", name: "1/16 in", mm: inch / 16 },
    { id: "32", name: "1/32 in", mm: inch / 32 },
  ],
  mm: [
    { id: "5", name: "5 mm", mm: 5 },
    { id: "1", name: "1 mm", mm: 1 },
    { id: "half", name: "0.5 mm", mm: 0.5 },
  ],
};

export const usualRule: Record<string, string> = { inch: "16", mm: "1" };

export function snapped(mm: number, rule: number): number {
  return Math.round(mm / rule) * rule;
}

const finest = 64; // of an inch

/** exactWithin is how far, in mm, a fraction may be off and still be shown as what it is. */
export const exactWithin = 0.01;

/** onMark tells whether a length is one that a rule in sixty-fourths has a mark for. */
export function onMark(mm: number): boolean {
  return Math.abs(mm - snapped(mm, inch / finest)) <= exactWithin;
}

/** halves is what binary fractions of mm may lack of a half hundredth, in hundredths: halves go up, as the program has it. */
const halves = 1e-6;

/** shown is a length as it is shown to one who measures in units: the nearest fraction, with ≈ before
 * it where it is not that, or hundredths of mm. */
export function shown(mm: number, units: string): string {
  if (units !== "inch") return String((Math.sign(mm) * Math.round(Math.abs(mm) * 100 + halves)) / 100 || 0);
  return (onMark(mm) ? "" : "≈ ") + written(mm, units);
}

/** filed is a length that was drawn by a rule in the units of a hand, as it is typed in a file of its
 * own units: with its unit, where they differ. */
export function filed(mm: number, { own, hand }: { own: string; hand: string }): string {
  const text = written(mm, hand);
  if (own === hand || text === "0") return text;
  return text + (hand === "inch" ? " in" : " mm");
}

/** written is a length as one types it in a file of these units: fractions of an inch, or mm. */
export function written(mm: number, units: string): string {
  if (units !== "inch") return String(+mm.toFixed(3));
  const n = Math.round((Math.abs(mm) / inch) * finest);
  const sign = mm < 0 && n > 0 ? "-" : "";
  const whole = Math.floor(n / finest);
  let num = n % finest, den = finest;
  while (num > 0 && num % 2 === 0) {
    num /= 2;
    den /= 2;
  }
  if (num === 0) return sign + whole;
  return sign + (whole ? whole + " " : "") + num + "/" + den;
}
