// Who works: adults, and children with their ages, or those whom the shop's file names.

import { NumberField } from "../outputs/parts";

export interface Workers {
  own: boolean; // those of the shop's file
  adults: number;
  ages: number[]; // of children
}

export const usualCrew: Workers = { own: false, adults: 1, ages: [] };

/** mostHands is how many people a plan holds. */
const mostHands = 8;

/** usualAge is how old a child is taken to be until it is said. */
const usualAge = 8;

/** handsOf says them in the words of a plan. */
export function handsOf(w: Workers, shop: boolean): string {
  if (w.own && shop) return "";
  return [...Array<string>(w.adults).fill("adult"), ...w.ages.map((a) => "child=" + a)].join(",");
}

export function Crew({ value, set, shop }: { value: Workers; set: (w: Workers) => void; shop: boolean }) {
  const own = value.own && shop;
  const all = value.adults + value.ages.length;
  return (
    <fieldset class="crew">
      <legend>Who works</legend>
      {shop && <label class="tick"><input type="checkbox" checked={own} onChange={(e) => set({ ...value, own: (e.target as HTMLInputElement).checked })} /> those of the shop's file</label>}
      {!own && <>
        <NumberField name="Adults" value={value.adults} set={(n) => set({ ...value, adults: n })} min={1} max={mostHands - value.ages.length} says={value.ages.length === 0 ? "at least one is always in the shop" : ""} />
        {value.ages.map((a, i) => (
          <span class="child" key={i}>
            <NumberField name={value.ages.length > 1 ? `Age of child ${i + 1}` : "Age of the child"} value={a} set={(n) => set({ ...value, ages: value.ages.map((x, k) => (k === i ? n : x)) })} min={3} max={17} />
            <button class="small" type="button" onClick={() => set({ ...value, ages: value.ages.filter((_, k) => k !== i) })} aria-label={`Remove child ${i + 1}`}>Remove</button>
          </span>
        ))}
        <button class="small add" type="button" disabled={all >= mostHands} onClick={() => set({ ...value, ages: [...value.ages, usualAge] })}>Add a child</button>
      </>}
    </fieldset>
  );
}
