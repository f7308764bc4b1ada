import { type PerspectiveCamera, Vector3 } from 'three';
import type { Vec3 } from '../../src/index.ts';

/** The figure fills the view but for this: room for the tools at the foot of the bench. */
const FIT_MARGIN = 1.17;

/** How far a camera must stand from the middle of a box, looking along −`direction`, to see all of it. */
export function fittedDistance(
  lens: PerspectiveCamera,
  aspect: number,
  direction: Vector3,
  { min, max }: { min: Vec3; max: Vec3 },
): number {
  const high = Math.tan((lens.fov * Math.PI) / 360) / FIT_MARGIN;
  const wide = high * aspect;
  const right = new Vector3().crossVectors(lens.up, direction).normalize();
  const up = new Vector3().crossVectors(direction, right);
  let distance = 0;
  for (let corner = 0; corner < 8; corner++) {
    const half = (axis: 0 | 1 | 2) => ((max[axis] - min[axis]) / 2) * ((corner >> axis) & 1 ? 1 : -1);
    const at = new Vector3(half(0), half(1), half(2));
    const needed = Math.max(Math.abs(at.dot(right)) / wide, Math.abs(at.dot(up)) / high);
    distance = Math.max(distance, at.dot(direction) + needed);
  }
  return distance;
}
