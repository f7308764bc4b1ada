import type { Loop } from '../math/polygon.ts';
import { regionOf } from './common-region.ts';
import type { Kernel } from './load.ts';
import { scoped } from './scope.ts';

/** How many times what is known of a radius is halved. */
const HALVINGS = 10;

/** Radius of the widest circle in a region (loops as in `commonRegion`), to a thousandth of `mostMm`, which it is no wider than. */
export const roomIn = (kernel: Kernel, loops: readonly Loop[], mostMm: number): number =>
  scoped((own) => {
    const region = own(regionOf(kernel, loops));
    let [fits, fails] = [0, mostMm];
    for (let i = 0; i < HALVINGS; i++) {
      const half = (fits + fails) / 2;
      if (own(region.offset(-half, 'Miter')).isEmpty()) fails = half;
      else fits = half;
    }
    return fits;
  });
