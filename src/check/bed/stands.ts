import { TOLERANCES } from '../../math/tolerances.ts';
import { sub, type Vec3 } from '../../math/vec3.ts';

export type Axis = 'x' | 'y' | 'z';
export const AXES = ['x', 'y', 'z'] as const;

/** The bed's width, depth and height as a part has them: unit vectors in its own axes, right-handed. */
export type BedAxes = readonly [Vec3, Vec3, Vec3];

/** What passes the bed by no more than the rounding of a file's coordinates is no excess, mm. */
export const NO_EXCESS = 2 * TOLERANCES.written;

/** A part on one side of its box: `overMm` is the most by which it passes the bed, along the bed's `axis`; 0 where it fits. */
export interface Stand {
  /** The part's own axis that is upright. */
  up: Axis;
  overMm: number;
  axis: Axis;
  on: BedAxes;
}

/**
 * How a part of this size does on a bed, standing as it is and on the side that suits it best; sizes mm. A quarter turn
 * on the bed is no other stand, since the same side lies down.
 */
export function standsOn(sizeMm: Vec3, bedMm: Vec3): { asItIs: Stand; best: Stand } {
  const stands = AXES.map((up) => standWith(up, sizeMm, bedMm));
  const asItIs = stands[2];
  return { asItIs, best: stands.reduce((best, one) => (one.overMm < best.overMm ? one : best), asItIs) };
}

const UNITS: BedAxes = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

function standWith(up: Axis, sizeMm: Vec3, bedMm: Vec3): Stand {
  const k = AXES.indexOf(up);
  const [i, j] = [(k + 1) % 3, (k + 2) % 3];
  const straight = excessOf([sizeMm[i], sizeMm[j], sizeMm[k]], bedMm);
  const turned = excessOf([sizeMm[j], sizeMm[i], sizeMm[k]], bedMm);
  if (straight.overMm <= turned.overMm) return { up, ...straight, on: [UNITS[i], UNITS[j], UNITS[k]] };
  return { up, ...turned, on: [UNITS[j], sub([0, 0, 0], UNITS[i]), UNITS[k]] };
}

/** What sizes along the bed's axes have too much, mm, and along which of them. */
export function excessOf(alongMm: Vec3, bedMm: Vec3): { overMm: number; axis: Axis } {
  const over = alongMm.map((mm, k) => mm - bedMm[k]);
  const overMm = Math.max(...over);
  return { overMm: overMm > NO_EXCESS ? overMm : 0, axis: AXES[over.indexOf(overMm)] };
}
