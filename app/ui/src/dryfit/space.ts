// Points and rigid motions, as plain numbers.

export type Vec = [number, number, number];

/** Pose is the columns of x, y, z and the origin, as the program sends them. */
export type Pose = number[];

export const still: Pose = [1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0];

export function plus(a: Vec, b: Vec, k = 1): Vec {
  return [a[0] + k * b[0], a[1] + k * b[1], a[2] + k * b[2]];
}

export function minus(a: Vec, b: Vec): Vec {
  return plus(a, b, -1);
}

export function times(a: Vec, k: number): Vec {
  return [a[0] * k, a[1] * k, a[2] * k];
}

export function dot(a: Vec, b: Vec): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

export function cross(a: Vec, b: Vec): Vec {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
}

export function length(a: Vec): number {
  return Math.hypot(a[0], a[1], a[2]);
}

export function unit(a: Vec): Vec {
  const l = length(a);
  return l === 0 ? [0, 0, 0] : times(a, 1 / l);
}

/** turned is a direction after a motion. */
export function turned(p: Pose, v: Vec): Vec {
  return [p[0] * v[0] + p[3] * v[1] + p[6] * v[2], p[1] * v[0] + p[4] * v[1] + p[7] * v[2], p[2] * v[0] + p[5] * v[1] + p[8] * v[2]];
}

/** moved is a point after a motion. */
export function moved(p: Pose, v: Vec): Vec {
  const t = turned(p, v);
  return [t[0] + p[9], t[1] + p[10], t[2] + p[11]];
}

/** after is motion b, and then a. */
export function after(a: Pose, b: Pose): Pose {
  const column = (i: number): Vec => turned(a, [b[3 * i], b[3 * i + 1], b[3 * i + 2]]);
  return [...column(0), ...column(1), ...column(2), ...moved(a, [b[9], b[10], b[11]])];
}

/** shift is a motion without a turn. */
export function shift(by: Vec): Pose {
  return [1, 0, 0, 0, 1, 0, 0, 0, 1, ...by];
}

/** turn goes right-handed about an axis through a point; the axis is a unit vector. */
export function turn(at: Vec, axis: Vec, angle: number): Pose {
  const c = Math.cos(angle), s = Math.sin(angle);
  const of = (v: Vec): Vec => plus(plus(times(v, c), cross(axis, v), s), axis, dot(axis, v) * (1 - c));
  const u = of([1, 0, 0]), v = of([0, 1, 0]), w = of([0, 0, 1]);
  const o = minus(at, turned([...u, ...v, ...w, 0, 0, 0], at));
  return [...u, ...v, ...w, ...o];
}
