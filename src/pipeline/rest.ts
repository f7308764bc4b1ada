import { convexHull } from '../kernel/hull.ts';
import type { Kernel } from '../kernel/load.ts';
import type { Vec3 } from '../math/vec3.ts';
import { measureMesh } from '../mesh/measure.ts';
import { standingSide } from '../mesh/standing-side.ts';
import type { Sculpt } from './sculpt.ts';

/** The direction to turn down for a sculpt to stand on the bed; null where it has no side to stand on. */
export function downOf(kernel: Kernel, { mesh, solid }: Sculpt): Vec3 | null {
  const hull = convexHull(kernel, mesh.positions);
  // An open surface has no weight of its own: its hull's stands in.
  return standingSide(hull, measureMesh(solid ? mesh : hull).centroid);
}
