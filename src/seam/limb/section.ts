import { nearestOnLoops } from '../../math/nearest-on-loops.ts';
import { fromFrame, type Plane, planeFrame, toFrame } from '../../math/plane.ts';
import { polygonMoments, windingAt } from '../../math/polygon.ts';
import { regionsOf } from '../../math/regions.ts';
import type { Vec3 } from '../../math/vec3.ts';
import type { Part } from '../../mesh/part/part.ts';
import { crossPlane } from '../../mesh/plane/cross-plane.ts';
import { outlineOf } from '../../mesh/plane/outline.ts';

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
  const [x, y] = toFrame(frame, near);
  const region =
    regions.find((one) => windingAt(one, x, y) === 1) ??
    regions.reduce<(typeof regions)[number] | null>((best, one) => {
      const off = nearestOnLoops(one, x, y).distance;
      return best === null || off < nearestOnLoops(best, x, y).distance ? one : best;
    }, null);
  if (region === null) return null;
  const { areaMm2, centroid } = polygonMoments(region);
  return { plane, areaMm2, centroid: fromFrame(frame, centroid), limbs: regions.length };
}
