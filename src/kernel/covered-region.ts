import type { Loop } from '../math/polygon.ts';
import { loopsOf, regionOf } from './common-region.ts';
import type { Kernel } from './load.ts';
import { scoped } from './scope.ts';

/** Cracks no wider than this between polygons that lie side by side are none, mm. */
const CRACK = 1e-3;
/** Corners of an outline that was drawn in may be this far off, mm. */
const SMOOTH = 0.02;

/**
 * What of a region lies under any of some polygons, drawn in by `insetMm` from its edge, piece by piece: loops as in
 * `commonRegion`. The polygons (flat x, y pairs, mm) run counter-clockwise.
 */
export function coveredRegion(
  kernel: Kernel,
  region: readonly Loop[],
  polygons: readonly Loop[],
  insetMm: number,
): Loop[][] {
  if (region.length === 0 || polygons.length === 0) return [];
  return scoped((own) => {
    const cover = own(own(regionOf(kernel, polygons, 'NonZero')).offset(CRACK, 'Miter'));
    const covered = own(cover.intersect(own(regionOf(kernel, region))));
    const inset = own(own(covered.offset(-CRACK - insetMm, 'Miter')).simplify(SMOOTH));
    return inset.decompose().map((piece) => loopsOf(own(piece)));
  });
}
