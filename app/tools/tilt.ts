import type { Vec3 } from '../../src/index.ts';

/**
 * A seam's direction as two angles away from a home axis, for people. The home axis is one of
 * ±X, ±Y, ±Z; with (h, a, b) a right-handed set, the normal is
 * `sin(across)·cos(along)·a − sin(along)·b + cos(across)·cos(along)·h`. Degrees.
 */
export interface Tilt {
  acrossDeg: number;
  alongDeg: number;
}

const RAD = Math.PI / 180;

/** The signed main axis nearest to a direction. */
export function homeAxis(normal: Vec3): Vec3 {
  const size = normal.map(Math.abs);
  const i = size[2]! >= size[0]! && size[2]! >= size[1]! ? 2 : size[0]! >= size[1]! ? 0 : 1;
  const home: [number, number, number] = [0, 0, 0];
  home[i] = normal[i]! < 0 ? -1 : 1;
  return home;
}

/** The two axes that make a right-handed set with `home`. */
function beside(home: Vec3): { a: Vec3; b: Vec3 } {
  const i = home.findIndex((c) => c !== 0);
  const a: [number, number, number] = [0, 0, 0];
  const b: [number, number, number] = [0, 0, 0];
  a[(i + 1) % 3] = 1;
  b[(i + 2) % 3] = home[i]!;
  return { a, b };
}

const dot = (p: Vec3, q: Vec3) => p[0] * q[0] + p[1] * q[1] + p[2] * q[2];

/** Angles of a unit normal. `across` lies in (−180, 180], `along` in [−90, 90]. */
export function tiltOf(home: Vec3, normal: Vec3): Tilt {
  const { a, b } = beside(home);
  const along = Math.asin(Math.min(1, Math.max(-1, -dot(normal, b)))) / RAD;
  const across = Math.atan2(dot(normal, a), dot(normal, home)) / RAD;
  return { acrossDeg: across + 0, alongDeg: along + 0 };
}

/** The unit normal of two angles. */
export function normalOf(home: Vec3, { acrossDeg, alongDeg }: Tilt): Vec3 {
  const { a, b } = beside(home);
  const x = Math.sin(acrossDeg * RAD) * Math.cos(alongDeg * RAD);
  const y = -Math.sin(alongDeg * RAD);
  const z = Math.cos(acrossDeg * RAD) * Math.cos(alongDeg * RAD);
  const mixed = (k: 0 | 1 | 2) => tidy(x * a[k] + y * b[k] + z * home[k]);
  return [mixed(0), mixed(1), mixed(2)];
}

/** Rounding noise of the sines removed, so that a square seam is written as exact zeros and ones. */
const tidy = (c: number): number => Math.round(c * 1e9) / 1e9 + 0;

/** `v` turned about the unit `axis` by `deg`, right-handed. */
export function turned(v: Vec3, axis: Vec3, deg: number): Vec3 {
  const c = Math.cos(deg * RAD);
  const s = Math.sin(deg * RAD);
  const k = dot(axis, v) * (1 - c);
  const cr: Vec3 = [
    axis[1] * v[2] - axis[2] * v[1],
    axis[2] * v[0] - axis[0] * v[2],
    axis[0] * v[1] - axis[1] * v[0],
  ];
  const at = (i: 0 | 1 | 2) => tidy(v[i] * c + cr[i] * s + axis[i] * k);
  return [at(0), at(1), at(2)];
}
