import { movePlane, type Plane, planeFrame } from '../math/plane.ts';
import { type Loop, regionArea, regionPerimeter } from '../math/polygon.ts';
import { add, sub, type Vec3 } from '../math/vec3.ts';
import type { Part } from '../mesh/part/part.ts';
import { crossPlane } from '../mesh/plane/cross-plane.ts';
import { outlineOf } from '../mesh/plane/outline.ts';
import type { FaceResult } from './evaluation.ts';

/** Where a plane (in the file's coordinates) would divide a part, without dividing it. `near` chooses the frame's origin. */
export function faceOutline(part: Part, plane: Plane, originMm: Vec3, near: Vec3): FaceResult {
  const local = movePlane(plane, originMm);
  const frame = planeFrame(local, sub(near, originMm));
  const runs = part.patches.map((patch) => patch.triangles);
  const outlines: Loop[] = outlineOf(crossPlane(part, runs, local), frame).loops;
  return {
    frame: { ...frame, origin: add(frame.origin, originMm) },
    outlines,
    areaMm2: regionArea(outlines),
    perimeterMm: regionPerimeter(outlines),
  };
}
