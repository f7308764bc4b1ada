import type { PlaneFrame } from '../math/plane.ts';
import { dot, type Vec3 } from '../math/vec3.ts';
import { rayHits } from '../mesh/near/ray-hits.ts';
import type { Part } from '../mesh/part/part.ts';
import { coordinate } from '../mesh/part/vertices.ts';
import { snapDistance } from '../mesh/plane/sides.ts';
import type { Astray } from '../seam/cut.ts';

/** Corners tried of each part at the most, evenly over those that lie across the plane. */
const MOST_CORNERS = 1500;

/**
 * Where one of two parts stands in the way of the other when the front one moves along the frame's normal; null where
 * they come apart. Tried from corners of what lies on the far side of the seam: a part with nothing there is in nobody's
 * way. Recentred mm.
 */
export const drawBlockedAt = (front: Part, back: Part, frame: PlaneFrame, astray: Astray): Vec3 | null =>
  firstHit(astray.back, front, frame, -1) ?? firstHit(astray.front, back, frame, 1);

/** Corners of two parts on the far side of the frame's plane, but for what lies no farther than `playMm` beyond. */
export const beyondPlane = (front: Part, back: Part, frame: PlaneFrame, playMm: number): Astray => ({
  front: cornersBeyond(front, frame, -1, playMm),
  back: cornersBeyond(back, frame, 1, playMm),
});

/** Corners of a part more than `playMm` in front of the frame's plane (`side` 1) or behind it (−1). */
function cornersBeyond(part: Part, { n, origin }: PlaneFrame, side: 1 | -1, playMm: number): Vec3[] {
  const level = dot(n, origin);
  const least = playMm + 2 * snapDistance(part);
  const found: number[] = [];
  for (const { triangles } of part.patches) {
    for (let i = 0; i < triangles.length; i++) {
      const v = triangles[i];
      const height =
        n[0] * coordinate(part, v, 0) + n[1] * coordinate(part, v, 1) + n[2] * coordinate(part, v, 2) - level;
      if (height * side > least) found.push(v);
    }
  }
  const stride = Math.max(1, Math.ceil(found.length / MOST_CORNERS));
  return found
    .filter((_, i) => i % stride === 0)
    .map((v): Vec3 => [coordinate(part, v, 0), coordinate(part, v, 1), coordinate(part, v, 2)]);
}

/** The first of some places from which a ray along the normal, or against it, meets a part. */
function firstHit(from: readonly Vec3[], part: Part, frame: PlaneFrame, way: 1 | -1): Vec3 | null {
  const runs = part.patches.map(({ triangles }) => triangles);
  return from.find((p) => rayHits(part, runs, p, frame, way).length > 0) ?? null;
}
