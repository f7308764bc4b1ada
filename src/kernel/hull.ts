import type { Mesh } from '../mesh/mesh.ts';
import type { Kernel } from './load.ts';
import { scoped } from './scope.ts';

/** The convex hull of points (x, y, z each), wound outward; empty where they lie in a plane. */
export function convexHull(kernel: Kernel, positions: Float32Array): Mesh {
  return scoped((own) => {
    const points: [number, number, number][] = [];
    for (let i = 0; i < positions.length; i += 3) {
      points.push([positions[i], positions[i + 1], positions[i + 2]]);
    }
    const { vertProperties, triVerts } = own(kernel.Manifold.hull(points)).getMesh();
    return { positions: vertProperties, triangles: triVerts };
  });
}
