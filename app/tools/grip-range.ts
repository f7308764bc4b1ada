import type { Vec3 } from '../../src/index.ts';
import type { Bounds } from '../state/new-seam.ts';
import type { Grip } from './seam-tool.ts';

/**
 * Between what values a grip of the seam's handle moves: mm along the unit normal `n` over the box of the figure, or
 * degrees of tilt. A seam that lies off the figure widens the range to where it is.
 */
export function gripRange(
  grip: Grip,
  n: Vec3,
  { min, max }: Bounds,
  value: number,
): readonly [number, number] {
  if (grip === 'across') return [-180, 180];
  if (grip === 'along') return [-90, 90];
  let low = 0;
  let high = 0;
  for (const i of [0, 1, 2] as const) {
    low += Math.min(n[i] * min[i], n[i] * max[i]);
    high += Math.max(n[i] * min[i], n[i] * max[i]);
  }
  return [Math.min(low, value), Math.max(high, value)];
}
