import { fromFrame, type Plane, planeFrame, toFrame } from '../../math/plane.ts';
import { polygonMoments } from '../../math/polygon.ts';
import { regionsOf } from '../../math/regions.ts';
import type { Vec3 } from '../../math/vec3.ts';
import type { Part } from '../../mesh/part/part.ts';
import { crossPlane } from '../../mesh/plane/cross-plane.ts';
import { outlineOf } from '../../mesh/plane/outline.ts';
import { groupAt } from '../bounded/outline-groups.ts';

/** Where a plane passes through one limb of a figure. Recentred mm. */
export interface LimbSection {
  plane: Plane;
  areaMm2: number;
  centroid: Vec3;
  /** How many limbs the plane passes through. */
  limbs: number;
}

/**
 * The section that a plane makes of the limb at a point: the region which the point, seen along the normal, is in, else
 * the nearest. Null where the plane meets nothing.
 */
export function limbSection(part: Part, plane: Plane, near: Vec3): LimbSection | null {
  const frame = planeFrame(plane, near);
  const crossing = crossPlane(
    part,
    part.patches.map(({ triangles }) => triangles),
    plane,
  );
  const regions = regionsOf(outlineOf(crossing, frame).loops);
  const at = groupAt(
    regions.map((around) => ({ around })),
    toFrame(frame, near),
  );
  if (at < 0) return null;
  const { areaMm2, centroid } = polygonMoments(regions[at]);
  return { plane, areaMm2, centroid: fromFrame(frame, centroid), limbs: regions.length };
}
