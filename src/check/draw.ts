import type { PlaneFrame } from '../math/plane.ts';
import { add, cross, dot, normalize, scale, sub, type Vec3 } from '../math/vec3.ts';
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

/**
 * Corners of a part more than `playMm` in front of the frame's plane (`side` 1) or behind it (−1), sunk into the part by as
 * much: where one part's side follows the other's, a ray along it would else graze.
 */
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
  const corners = found.filter((_, i) => i % stride === 0);
  const outward = playMm > 0 ? outwardAt(part, corners) : null;
  return corners.map((v) => sub(placeOf(part, v), scale(outward?.get(v) ?? [0, 0, 0], playMm)));
}

const placeOf = (part: Part, v: number): Vec3 => [
  coordinate(part, v, 0),
  coordinate(part, v, 1),
  coordinate(part, v, 2),
];

/** Unit ways out of a part at some of its corners, by the areas of the triangles there. */
function outwardAt(part: Part, corners: readonly number[]): Map<number, Vec3> {
  const sums = new Map<number, Vec3>(corners.map((v) => [v, [0, 0, 0]]));
  for (const { triangles } of part.patches) {
    for (let i = 0; i < triangles.length; i += 3) {
      for (let k = 0; k < 3; k++) {
        const sum = sums.get(triangles[i + k]);
        if (sum === undefined) continue;
        const [a, b, c] = [0, 1, 2].map((j) => placeOf(part, triangles[i + j]));
        sums.set(triangles[i + k], add(sum, cross(sub(b, a), sub(c, a))));
      }
    }
  }
  return new Map([...sums].map(([v, sum]) => [v, Math.hypot(...sum) > 0 ? normalize(sum) : sum]));
}

/**
 * The first of some places from which a ray along the normal, or against it, goes into a part. One that only comes out
 * began in it: corners of a thin edge along which parts meet may have sunk through it, and nothing is in their way.
 */
function firstHit(from: readonly Vec3[], part: Part, frame: PlaneFrame, way: 1 | -1): Vec3 | null {
  const runs = part.patches.map(({ triangles }) => triangles);
  return from.find((p) => rayHits(part, runs, p, frame, way).some(({ leaves }) => !leaves)) ?? null;
}
