import type { PlaneFrame } from '../math/plane.ts';
import { add, cross, dot, normalize, scale, sub, type Vec3 } from '../math/vec3.ts';
import { rayHits } from '../mesh/near/ray-hits.ts';
import { facetsOf, type Part } from '../mesh/part/part.ts';
import { coordinate } from '../mesh/part/vertices.ts';
import { snapDistance } from '../mesh/plane/sides.ts';
import type { Astray } from '../seam/cut.ts';

/** Places tried of each part at the most, evenly over all there are. */
const MOST_TRIED = 1500;

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
  const stride = Math.max(1, Math.ceil(found.length / MOST_TRIED));
  const corners = found.filter((_, i) => i % stride === 0);
  const outward = playMm > 0 ? outwardAt(part, corners) : null;
  return corners.map((v) => sub(placeOf(part, v), scale(outward?.get(v) ?? [0, 0, 0], playMm)));
}

/** Places this deep under a skin, mm, are of one part alone however flush another lies. */
const SUNK_MM = 0.01;

/**
 * Places all over the skin of two parts, away from the faces that a seam gives both: the middle of each triangle and beside
 * its corners, just within the part.
 */
export const allOver = (front: Part, back: Part, seamId: string): Astray => ({
  front: placesUnderSkin(front, seamId),
  back: placesUnderSkin(back, seamId),
});

/** Weights of a triangle's corners at the places that are tried of it. */
const TRIED: readonly Vec3[] = [
  [1 / 3, 1 / 3, 1 / 3],
  [0.98, 0.01, 0.01],
  [0.01, 0.98, 0.01],
  [0.01, 0.01, 0.98],
];

function placesUnderSkin(part: Part, seamId: string): Vec3[] {
  const skins = part.patches.filter(({ of }) => facetsOf(of).every((face) => face.seamId !== seamId));
  const count = skins.reduce((sum, { triangles }) => sum + (triangles.length / 3) * TRIED.length, 0);
  const stride = Math.max(1, Math.ceil(count / MOST_TRIED));
  const places: Vec3[] = [];
  let next = 0;
  for (const { triangles } of skins) {
    const own = (triangles.length / 3) * TRIED.length;
    for (; next < own; next += stride) {
      const i = Math.floor(next / TRIED.length) * 3;
      const [a, b, c] = [0, 1, 2].map((k) => placeOf(part, triangles[i + k]));
      const outward = cross(sub(b, a), sub(c, a));
      if (Math.hypot(...outward) === 0) continue;
      const [p, q, r] = TRIED[next % TRIED.length];
      const on = add(add(scale(a, p), scale(b, q)), scale(c, r));
      places.push(sub(on, scale(normalize(outward), SUNK_MM)));
    }
    next -= own;
  }
  return places;
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
