/**
 * Signed distances in mm, negative inside. Ellipsoids are close to exact near their surface only;
 * everything else is exact or a lower bound.
 */

/** Smallest of two, with the crease rounded over `k` mm. Equal to min wherever they differ by more than `k`. */
export function smoothMin(a: number, b: number, k: number): number {
  const h = k - Math.abs(a - b);
  return h > 0 ? Math.min(a, b) - (h * h) / (4 * k) : Math.min(a, b);
}

/** Largest of two, with the edge rounded over `k` mm. */
export const smoothMax = (a: number, b: number, k: number): number => -smoothMin(-a, -b, k);

/** Lengths of vectors. Math.hypot guards against overflow that cannot happen here, at several times the cost. */
export const length2 = (x: number, y: number): number => Math.sqrt(x * x + y * y);
export const length3 = (x: number, y: number, z: number): number => Math.sqrt(x * x + y * y + z * z);

export const clamp01 = (t: number): number => Math.min(1, Math.max(0, t));

/** 0 below `from`, 1 above `to`, smooth between. */
export function smoothStep(from: number, to: number, x: number): number {
  const t = clamp01((x - from) / (to - from));
  return t * t * (3 - 2 * t);
}

/** A bell of height 1 at 0 that has sunk to 1/e at `width`. */
export const bell = (x: number, width: number): number => Math.exp(-((x / width) ** 2));

/** Ellipsoid about the origin with half axes a, b, c. */
export function ellipsoid(x: number, y: number, z: number, a: number, b: number, c: number): number {
  const k0 = length3(x / a, y / b, z / c);
  const k1 = length3(x / (a * a), y / (b * b), z / (c * c));
  return k1 > 1e-9 ? (k0 * (k0 - 1)) / k1 : -Math.min(a, b, c);
}

/** Torus about the third axis: `across` is the distance from that axis, `along` the height on it. */
export const torus = (across: number, along: number, major: number, minor: number): number =>
  length2(across - major, along) - minor;

/** Upright cylinder of radius `r` between two heights, edges rounded over `k`. */
export function cylinder(across: number, z: number, r: number, low: number, high: number, k: number): number {
  return smoothMax(across - r, Math.max(low - z, z - high), k);
}
