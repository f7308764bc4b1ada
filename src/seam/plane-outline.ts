import { type Plane, type PlaneFrame, planeFrame } from '../math/plane.ts';
import type { Loop } from '../math/polygon.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { Part } from '../mesh/part/part.ts';
import { crossPlane } from '../mesh/plane/cross-plane.ts';
import type { Crossing } from '../mesh/plane/crossing.ts';
import { outlineOf, type Ring } from '../mesh/plane/outline.ts';

/** All that a plane makes of a part, without dividing it. Recentred mm. */
export interface PlaneOutline {
  crossing: Crossing;
  frame: PlaneFrame;
  rings: Ring[];
  loops: Loop[];
}

/** Where a plane passes through a part; its frame's origin is the point of the plane nearest to `near`. */
export function planeOutline(part: Part, plane: Plane, near: Vec3): PlaneOutline {
  const frame = planeFrame(plane, near);
  const runs = part.patches.map((patch) => patch.triangles);
  const crossing = crossPlane(part, runs, plane);
  return { crossing, frame, ...outlineOf(crossing, frame) };
}
