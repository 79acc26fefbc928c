// Drawing without a pointer: arrow keys move what is chosen, or the mark of a tool.

const wide = 4; // marks of the rule at a time, with Shift

const ways: Record<string, [number, number]> = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

/** arrow is how far a key moves something on a rule, right and up; null where it is no arrow key. */
export function arrow(e: KeyboardEvent, rule: number): [number, number] | null {
  const way = ways[e.key];
  const by = rule * (e.shiftKey ? wide : 1);
  return way ? [way[0] * by, way[1] * by] : null;
}

/** toPaper brings the keys back to the paper where what had them goes away. */
export function toPaper(): void {
  document.querySelector<SVGElement>("svg.sheet")?.focus();
}
