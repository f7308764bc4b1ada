import type { Loop } from './polygon.ts';

/** A box in the plane: least and greatest x and y, mm. */
export interface PlaneBox {
  min: readonly [number, number];
  max: readonly [number, number];
}

/**
 * The part of a closed loop within a box, border pieces included; empty where nothing is left.
 * Sutherland & Hodgman, *Communications of the ACM* 17(1), 1974: one pass for each side.
 */
export function clipLoop(loop: Loop, { min, max }: PlaneBox): Loop {
  let points = [...loop];
  for (const axis of [0, 1] as const) {
    points = clipSide(points, axis, min[axis], 1);
    points = clipSide(points, axis, max[axis], -1);
  }
  return Float64Array.from(points);
}

/** Keeps what has `sign × (coordinate − limit) ≥ 0`. */
function clipSide(points: readonly number[], axis: 0 | 1, limit: number, sign: 1 | -1): number[] {
  const kept: number[] = [];
  for (let i = 0, j = points.length - 2; i < points.length; j = i, i += 2) {
    const from = sign * (points[j + axis] - limit);
    const to = sign * (points[i + axis] - limit);
    if (from < 0 !== to < 0) {
      const t = from / (from - to);
      kept.push(points[j] + t * (points[i] - points[j]), points[j + 1] + t * (points[i + 1] - points[j + 1]));
    }
    if (to >= 0) kept.push(points[i], points[i + 1]);
  }
  return kept;
}
