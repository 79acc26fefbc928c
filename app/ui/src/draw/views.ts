// The three views of a blank, side by side and true to each other: the face, below it the edge,
// beside that the end; each as seen from outside (docs/contracts.md: Views).

export type Vec3 = [number, number, number];
export type Side = "top" | "bottom" | "right" | "left" | "front" | "back";

/** shopWords are what a toy file calls the sides. */
export const shopWords: Record<Side, string> = { top: "face", bottom: "other-face", right: "edge", left: "other-edge", front: "end", back: "other-end" };

export const sideNames: Record<Side, string> = { top: "Face", bottom: "Other face", right: "Edge", left: "Other edge", front: "End", back: "Other end" };

export const opposite: Record<Side, Side> = { top: "bottom", bottom: "top", right: "left", left: "right", front: "back", back: "front" };

/** across are the names of the width and the height of a side in formulas. */
export const across: Record<Side, [string, string]> = {
  top: ["length", "width"], bottom: ["length", "width"], right: ["length", "thick"], left: ["length", "thick"], front: ["width", "thick"], back: ["width", "thick"],
};

export function sideSize(side: Side, [l, w, t]: Vec3): [number, number] {
  if (side === "top" || side === "bottom") return [l, w];
  return side === "right" || side === "left" ? [l, t] : [w, t];
}

/** onSide is where a place of the blank is seen on a side. */
export function onSide(side: Side, [l, w]: Vec3, [x, y, z]: Vec3): [number, number] {
  switch (side) {
    case "top": return [x, y];
    case "bottom": return [x, w - y];
    case "right": return [x, z];
    case "left": return [l - x, z];
    case "front": return [y, z];
    case "back": return [w - y, z];
  }
}

/** View is a side on the paper: u goes right from x, v up from y, which counts down. */
export interface View {
  side: Side;
  x: number;
  y: number;
  w: number;
  h: number;
}

/** laid arranges the views of a blank; which of each pair of sides is seen can be chosen. */
export function laid(size: Vec3, sides: [Side, Side, Side]): { views: View[]; w: number; h: number } {
  const gap = Math.max(14, 0.14 * Math.max(...size));
  const [l, w, t] = size;
  return {
    views: [
      { side: sides[0], x: gap, y: gap + w, w: l, h: w },
      { side: sides[1], x: gap, y: gap + w + gap + t, w: l, h: t },
      { side: sides[2], x: gap + l + gap, y: gap + w + gap + t, w, h: t },
    ],
    w: gap + l + gap + w + gap,
    h: gap + w + gap + t + gap,
  };
}
