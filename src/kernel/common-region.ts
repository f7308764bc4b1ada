import type { CrossSection, FillRule } from 'manifold-3d';
import type { Loop } from '../math/polygon.ts';
import type { Kernel } from './load.ts';
import { scoped } from './scope.ts';

/**
 * What two regions have in common, each bounded by loops (flat x, y pairs, mm; counter-clockwise outside, clockwise
 * holes), in the same way. Corners are kept to some 1e-8 mm.
 */
export const commonRegion = (kernel: Kernel, a: readonly Loop[], b: readonly Loop[]): Loop[] => {
  // The kernel takes no region of no loops.
  if (a.length === 0 || b.length === 0) return [];
  return scoped((own) => loopsOf(own(own(regionOf(kernel, a)).intersect(own(regionOf(kernel, b))))));
};

/** A region as the kernel has it, of one loop or more; the caller deletes it. */
export const regionOf = (kernel: Kernel, loops: readonly Loop[], fill?: FillRule): CrossSection =>
  new kernel.CrossSection(loops.map(cornersOf), fill);

/** A region of the kernel's as loops. */
export const loopsOf = (region: CrossSection): Loop[] =>
  region.toPolygons().map((corners) => Float64Array.from(corners.flat()));

const cornersOf = (loop: Loop): [number, number][] =>
  Array.from({ length: loop.length / 2 }, (_, i) => [loop[i * 2], loop[i * 2 + 1]]);
