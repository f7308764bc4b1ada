import { TOLERANCES } from '../math/tolerances.ts';
import type { Vec3 } from '../math/vec3.ts';

export type Axis = 'x' | 'y' | 'z';
const AXES = ['x', 'y', 'z'] as const;

/** A part on one side of its box: `overMm` is the most by which it passes the bed, along the bed's `axis`; 0 where it fits. */
export interface Stand {
  /** The part's own axis that is upright. */
  up: Axis;
  overMm: number;
  axis: Axis;
}

/**
 * How a part of this size does on a bed, standing as it is and on the side that suits it best; sizes mm. A quarter turn
 * on the bed is no other stand, since the same side lies down. What is within the rounding of a file's coordinates is no excess.
 */
export function standsOn(sizeMm: Vec3, bedMm: Vec3): { asItIs: Stand; best: Stand } {
  const stands = AXES.map((up) => standWith(up, sizeMm, bedMm));
  const asItIs = stands[2];
  return { asItIs, best: stands.reduce((best, one) => (one.overMm < best.overMm ? one : best), asItIs) };
}

function standWith(up: Axis, sizeMm: Vec3, bedMm: Vec3): Stand {
  const k = AXES.indexOf(up);
  const [a, b] = [sizeMm[(k + 1) % 3], sizeMm[(k + 2) % 3]];
  const turned = [
    [a, b, sizeMm[k]],
    [b, a, sizeMm[k]],
  ].map((size) => excessOf(size, bedMm));
  const least = turned[0].overMm <= turned[1].overMm ? turned[0] : turned[1];
  return { up, ...least };
}

function excessOf(size: readonly number[], bedMm: Vec3): { overMm: number; axis: Axis } {
  const over = size.map((mm, k) => mm - bedMm[k]);
  const overMm = Math.max(...over);
  return { overMm: overMm > 2 * TOLERANCES.written ? overMm : 0, axis: AXES[over.indexOf(overMm)] };
}
