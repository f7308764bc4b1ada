/** Three-vectors as readonly tuples: for the handful of vectors around a mesh, never for its vertices. */

export type Vec3 = readonly [number, number, number];
export type Vec2 = readonly [number, number];

export const add = (a: Vec3, b: Vec3): Vec3 => [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
export const sub = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
export const scale = (a: Vec3, s: number): Vec3 => [a[0] * s, a[1] * s, a[2] * s];
export const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
export const cross = (a: Vec3, b: Vec3): Vec3 => [
  a[1] * b[2] - a[2] * b[1],
  a[2] * b[0] - a[0] * b[2],
  a[0] * b[1] - a[1] * b[0],
];
export const length = (a: Vec3): number => Math.hypot(a[0], a[1], a[2]);

/** Unit vector along `a`; the zero vector comes back as it is. */
export function normalize(a: Vec3): Vec3 {
  const l = length(a);
  return l > 0 ? scale(a, 1 / l) : a;
}

/** Two unit vectors square to a unit one and to each other: the three are right-handed, it the last. */
export function squareTo(n: Vec3): [Vec3, Vec3] {
  const u = normalize(cross(n, Math.abs(n[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0]));
  return [u, cross(n, u)];
}
