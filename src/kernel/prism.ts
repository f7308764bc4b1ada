import { fromFrame, type PlaneFrame } from '../math/plane.ts';
import type { Loop } from '../math/polygon.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { regionOf } from './common-region.ts';
import type { Kernel } from './load.ts';
import { scoped } from './scope.ts';

/** The closed prism over a region of a frame (loops as in `commonRegion`) between two heights along its normal, mm. */
export const prismOver = (
  kernel: Kernel,
  loops: readonly Loop[],
  frame: PlaneFrame,
  [low, high]: readonly [number, number],
): Mesh =>
  scoped((own) => {
    const region = own(regionOf(kernel, loops));
    const { vertProperties: p, triVerts } = own(region.extrude(high - low)).getMesh();
    const positions = new Float32Array(p.length);
    for (let v = 0; v < p.length; v += 3)
      positions.set(fromFrame(frame, [p[v], p[v + 1]], low + p[v + 2]), v);
    return { positions, triangles: triVerts };
  });
