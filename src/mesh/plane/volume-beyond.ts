import type { Plane } from '../../math/plane.ts';
import { add, cross, dot, scale, sub, type Vec3 } from '../../math/vec3.ts';
import type { Mesh } from '../mesh.ts';

/**
 * Volume of a closed mesh in front of a plane, mm³: the tetrahedra from a point of the plane to what its triangles
 * have there (Mirtich, *Journal of Graphics Tools* 1(2), 1996). The lid that would close it lies in the plane and adds nothing.
 */
export function volumeBeyond({ positions, triangles }: Mesh, { normal, offset }: Plane): number {
  const apex = scale(normal, offset / dot(normal, normal));
  let six = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    const corners = [0, 1, 2].map((k): Vec3 => {
      const v = triangles[i + k] * 3;
      return sub([positions[v], positions[v + 1], positions[v + 2]], apex);
    });
    const front = inFront(corners, normal);
    for (let k = 2; k < front.length; k++) six += dot(front[0], cross(front[k - 1], front[k]));
  }
  return six / 6;
}

/** The part of a convex polygon on the side of the origin that a normal points to (Sutherland and Hodgman, *CACM* 17(1), 1974). */
function inFront(corners: readonly Vec3[], normal: Vec3): Vec3[] {
  return corners.flatMap((b, k) => {
    const a = corners[(k + corners.length - 1) % corners.length];
    const [from, to] = [dot(a, normal), dot(b, normal)];
    const kept = to >= 0 ? [b] : [];
    return from >= 0 === to >= 0 ? kept : [add(a, scale(sub(b, a), from / (from - to))), ...kept];
  });
}
