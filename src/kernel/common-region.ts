import type { Loop } from '../math/polygon.ts';
import type { Kernel } from './load.ts';
import { scoped } from './scope.ts';

/**
 * What two regions have in common, each bounded by loops (flat x, y pairs, mm; counter-clockwise outside, clockwise
 * holes), in the same way. Corners are kept to some 1e-8 mm.
 */
export const commonRegion = (kernel: Kernel, a: readonly Loop[], b: readonly Loop[]): Loop[] =>
  scoped((own) => {
    const [one, other] = [a, b].map((loops) => own(new kernel.CrossSection(loops.map(cornersOf))));
    return own(one.intersect(other))
      .toPolygons()
      .map((corners) => Float64Array.from(corners.flat()));
  });

const cornersOf = (loop: Loop): [number, number][] =>
  Array.from({ length: loop.length / 2 }, (_, i) => [loop[i * 2], loop[i * 2 + 1]]);
