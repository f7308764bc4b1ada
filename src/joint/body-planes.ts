import { convexRing } from '../math/convex-ring.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import { dot, type Vec2, type Vec3 } from '../math/vec3.ts';
import { triangleHeight } from '../mesh/near/triangle-height.ts';
import { type BodySpec, coreCorner } from './parallel-body.ts';
import type { JointFrame } from './place-body.ts';

/**
 * Planes that have a joint's core behind them, in place, for quick bounds. The body is the core grown by `radius`, cut
 * off at the face, so a distance to it is at least the distance to what all the planes have behind them less the
 * radius, and at least the height under the face.
 */
export interface BodyPlanes {
  /** Unit outward normals and offsets (mm) of planes around the core's convex hull and at its end, four numbers a plane. */
  around: Float64Array;
  /** What the core is grown by, and what facets may lie off that. */
  radius: number;
  /** The face: unit normal away from the body, and offset (mm). */
  face: Float64Array;
  /** Pairs of the planes that meet in an edge, two numbers each, and the cosines between their normals. */
  edges: Uint8Array;
  cosines: Float64Array;
  /** Room for the heights over the planes of what is being looked at. */
  heights: Float64Array;
}

export function bodyPlanes(spec: BodySpec, frame: JointFrame, lowestMm = 0): BodyPlanes {
  const { core, draft, radius, coreTop } = spec;
  const { foot, x, y, z } = frame;
  const placed = (nx: number, ny: number, nz: number, offset: number): number[] => {
    const n = [0, 1, 2].map((k) => nx * x[k] + ny * y[k] + nz * z[k]);
    return [...n, offset + n[0] * foot[0] + n[1] * foot[1] + n[2] * foot[2]];
  };
  // The body's points are no lower than its rim, and those of the core that they grow from no lower than a radius below.
  const levels = [lowestMm - radius, coreTop].map((level) =>
    core.corners.map((_, k): Vec3 => [...coreCorner(spec, k, level), level]),
  );
  const sides = directionsAround(core.corners).map(([dx, dy]) => {
    const n: Vec3 = [dx * Math.cos(draft), dy * Math.cos(draft), Math.sin(draft)];
    return placed(...n, Math.max(...levels.flat().map((p) => dot(n, p))));
  });
  const planes = [...sides, placed(0, 0, 1, coreTop)];
  const pairs = edgePairs(planes);
  return {
    around: Float64Array.from(planes.flat()),
    radius: radius + TOLERANCES.jointChord,
    face: Float64Array.of(-z[0], -z[1], -z[2], -dot(z, foot) - lowestMm),
    edges: Uint8Array.from(pairs.flat()),
    cosines: Float64Array.from(pairs, ([i, j]) => cosineOf(planes[i], planes[j])),
    heights: new Float64Array(planes.length),
  };
}

/** Sides that the bounds are read off at the most. */
const MOST_SIDES = 16;

/** Outward directions of the sides of the convex ring around a core's corners; of very many an even choice of directions. */
function directionsAround(corners: readonly Vec2[]): Vec2[] {
  const ring = convexRing(Float64Array.from(corners.flat()));
  if (ring.length > MOST_SIDES) {
    return Array.from({ length: MOST_SIDES }, (_, k): Vec2 => {
      const angle = (2 * Math.PI * k) / MOST_SIDES;
      return [Math.cos(angle), Math.sin(angle)];
    });
  }
  return Array.from(ring, (corner, k): Vec2 => {
    const [ax, ay] = corners[corner];
    const [bx, by] = corners[ring[(k + 1) % ring.length]];
    const l = Math.hypot(bx - ax, by - ay);
    return [(by - ay) / l, (ax - bx) / l];
  });
}

/** Cosine between normals from which on the edge of two planes is hardly farther out than they are. */
const NEARLY_ALIKE = 0.9;

/** Every side with the end, which is last, and with the next side where there is an edge worth the name. */
function edgePairs(planes: readonly number[][]): [number, number][] {
  const end = planes.length - 1;
  return planes.slice(0, end).flatMap((plane, i): [number, number][] => {
    const next = (i + 1) % end;
    return cosineOf(plane, planes[next]) < NEARLY_ALIKE
      ? [
          [i, end],
          [i, next],
        ]
      : [[i, end]];
  });
}

const cosineOf = (a: readonly number[], b: readonly number[]): number =>
  a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

/**
 * A distance (mm) that a triangle of nine numbers cannot be nearer to the body than: its least
 * heights over the core's planes, taken one by one and, where two planes meet in an edge that is
 * nearer than both, by twos. Negative values say only that no plane parts the two. Past `reach`
 * the first distance found will do.
 */
export function triangleBound(planes: BodyPlanes, t: Float64Array, reach: number): number {
  const { around, face, heights, radius } = planes;
  const under = triangleHeight(face, 0, t);
  if (under > reach) return under;
  for (let i = 0; i < heights.length; i++) {
    heights[i] = triangleHeight(around, i * 4, t);
    if (heights[i] - radius > reach) return heights[i] - radius;
  }
  return boundFrom(planes, under);
}

/** The same for all that lies in a box (min x, y, z, max x, y, z at `at`). */
export function boxBound(planes: BodyPlanes, boxes: Float32Array, at: number, reach: number): number {
  const { around, face, heights, radius } = planes;
  const under = boxHeight(face, 0, boxes, at);
  if (under > reach) return under;
  for (let i = 0; i < heights.length; i++) {
    heights[i] = boxHeight(around, i * 4, boxes, at);
    if (heights[i] - radius > reach) return heights[i] - radius;
  }
  return boundFrom(planes, under);
}

function boundFrom({ radius, edges, cosines, heights }: BodyPlanes, faceHeight: number): number {
  let bound = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < heights.length; i++) bound = Math.max(bound, heights[i]);
  for (let e = 0; e < cosines.length; e++)
    bound = Math.max(bound, wedgeDistance(heights[edges[e * 2]], heights[edges[e * 2 + 1]], cosines[e]));
  return Math.max(bound - radius, faceHeight);
}

/** Least height of a box over a plane. */
function boxHeight(planes: Float64Array, at: number, boxes: Float32Array, box: number): number {
  const nx = planes[at];
  const ny = planes[at + 1];
  const nz = planes[at + 2];
  return (
    nx * boxes[nx > 0 ? box : box + 3] +
    ny * boxes[ny > 0 ? box + 1 : box + 4] +
    nz * boxes[nz > 0 ? box + 2 : box + 5] -
    planes[at + 3]
  );
}

/** Distance to the edge of a wedge from heights over its two planes; nothing where a plane itself is nearer. */
function wedgeDistance(h: number, k: number, cosine: number): number {
  if (h <= cosine * k || k <= cosine * h || h <= 0 || k <= 0 || cosine < -0.99)
    return Number.NEGATIVE_INFINITY;
  return Math.sqrt((h * h + k * k - 2 * cosine * h * k) / (1 - cosine * cosine));
}
