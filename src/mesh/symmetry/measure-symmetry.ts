import type { Plane } from '../../math/plane.ts';
import type { SkinSearch } from '../near/nearest-on-skin.ts';
import type { SkinSamples } from './sample-skin.ts';
import { SYMMETRY } from './tuning.ts';

/** How far a figure is its own mirror image. Lengths mm. */
export interface SymmetryMeasures {
  /** A place of the skin has a mirror image where that is no farther from the skin than this. */
  nearMm: number;
  /** The share of the skin's area that has one. */
  share: number;
  /** How far those images are from the skin: root mean square, and most. */
  errorMm: { rms: number; max: number };
  /** How far off the farthest image of all is. */
  farthestMm: number;
  /** True where `share` is large enough for the plane to be the figure's. */
  isSymmetric: boolean;
}

/** The same, and across which plane. */
export interface Symmetry extends SymmetryMeasures {
  plane: Plane;
}

/** How near an image must be to the skin, by the length of the figure's diagonal; mm. */
export const nearFor = (diagonalMm: number): number => Math.min(SYMMETRY.nearMm, SYMMETRY.near * diagonalMm);

/** Measures across a plane: the distance of each sample's mirror image from the skin. */
export function measureSymmetry(
  search: SkinSearch,
  { points }: SkinSamples,
  plane: Plane,
  diagonalMm: number,
): Symmetry {
  const nearMm = nearFor(diagonalMm);
  let near = 0;
  let squares = 0;
  let max = 0;
  let farthest = 0;
  forEachImage(points, plane, (x, y, z) => {
    const distance = search.nearest(x, y, z, Number.POSITIVE_INFINITY)?.distance ?? 0;
    farthest = Math.max(farthest, distance);
    if (distance > nearMm) return;
    near++;
    squares += distance * distance;
    max = Math.max(max, distance);
  });
  const share = near / Math.max(1, points.length / 3);
  return {
    plane,
    nearMm,
    share,
    errorMm: { rms: near === 0 ? 0 : Math.sqrt(squares / near), max },
    farthestMm: farthest,
    isSymmetric: share >= SYMMETRY.leastShare,
  };
}

/** The share of the samples whose mirror image is no farther than `nearMm` from the skin. */
export function mirroredShare(
  search: SkinSearch,
  { points }: SkinSamples,
  plane: Plane,
  nearMm: number,
): number {
  let near = 0;
  forEachImage(points, plane, (x, y, z) => {
    if (search.nearest(x, y, z, nearMm) !== null) near++;
  });
  return near / Math.max(1, points.length / 3);
}

/** How badly a plane does, 0 to 1: the mean distance of images from the skin, none of them counting more than `reachMm`. */
export function misfit(search: SkinSearch, { points }: SkinSamples, plane: Plane, reachMm: number): number {
  let sum = 0;
  forEachImage(points, plane, (x, y, z) => {
    sum += search.nearest(x, y, z, reachMm)?.distance ?? reachMm;
  });
  return sum / reachMm / Math.max(1, points.length / 3);
}

function forEachImage(
  points: Float64Array,
  { normal: [nx, ny, nz], offset }: Plane,
  visit: (x: number, y: number, z: number) => void,
): void {
  for (let i = 0; i < points.length; i += 3) {
    const twice = 2 * (nx * points[i] + ny * points[i + 1] + nz * points[i + 2] - offset);
    visit(points[i] - twice * nx, points[i + 1] - twice * ny, points[i + 2] - twice * nz);
  }
}
