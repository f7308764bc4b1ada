import { dot } from '../math/vec3.ts';
import { type BodySpec, coreCorner } from './parallel-body.ts';
import type { JointFrame } from './place-body.ts';

/**
 * The planes around a joint's core in place, for quick bounds. The body is the core grown by
 * `radius`, cut off at the face, so a distance to it is at least the distance to the core's
 * planes less the radius, and at least the height under the face.
 */
export interface BodyPlanes {
  /** Unit outward normals and offsets (mm) of the core's sides and end, four numbers a plane. */
  core: Float64Array;
  /** Those of them that bounds are read off: all, but of a round core a few of its many sides. */
  bounds: Float64Array;
  radius: number;
  /** The face: unit normal away from the body, and offset (mm). */
  face: Float64Array;
  /** Pairs of the bounds' planes that meet in an edge, two numbers each, and the cosines between their normals. */
  edges: Uint8Array;
  cosines: Float64Array;
  /** Room for the heights over the core's planes of what is being looked at. */
  heights: Float64Array;
}

export function bodyPlanes(spec: BodySpec, frame: JointFrame, lowestMm = 0): BodyPlanes {
  const { core, draft, radius, coreTop } = spec;
  const { foot, x, y, z } = frame;
  const placed = (nx: number, ny: number, nz: number, offset: number): number[] => {
    const n = [0, 1, 2].map((k) => nx * x[k] + ny * y[k] + nz * z[k]);
    return [...n, offset + n[0] * foot[0] + n[1] * foot[1] + n[2] * foot[2]];
  };
  const sides = core.corners.map((_, k) => {
    const [ax, ay] = coreCorner(spec, k, 0);
    const [bx, by] = coreCorner(spec, (k + 1) % core.corners.length, 0);
    const l = Math.hypot(bx - ax, by - ay);
    const nx = ((by - ay) / l) * Math.cos(draft);
    const ny = ((ax - bx) / l) * Math.cos(draft);
    // A round core reaches out to its corners between them too.
    const offset = core.isRound ? Math.hypot(ax, ay) * Math.cos(draft) : nx * ax + ny * ay;
    return placed(nx, ny, Math.sin(draft), offset);
  });
  const end = placed(0, 0, 1, coreTop);
  const step = core.isRound ? Math.ceil(sides.length / ROUND_SIDES) : 1;
  const bounds = [...sides.filter((_, k) => k % step === 0), end];
  const pairs = edgePairs(bounds.length, core.isRound);
  return {
    core: Float64Array.from([...sides, end].flat()),
    bounds: Float64Array.from(bounds.flat()),
    radius,
    face: Float64Array.of(-z[0], -z[1], -z[2], -dot(z, foot) - lowestMm),
    edges: Uint8Array.from(pairs.flat()),
    cosines: Float64Array.from(pairs, ([i, j]) => {
      const [a, b] = [bounds[i], bounds[j]];
      return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
    }),
    heights: new Float64Array(bounds.length),
  };
}

/** Sides that a round core's bounds are read off. */
const ROUND_SIDES = 16;

/** Every two planes; of a round core the end, which is last, with each side: between its sides there is no edge. */
function edgePairs(count: number, isRound: boolean): [number, number][] {
  const pairs: [number, number][] = [];
  for (let i = 0; i < count; i++) {
    for (let j = 0; j < i; j++) if (!isRound || i === count - 1) pairs.push([i, j]);
  }
  return pairs;
}

/**
 * A distance (mm) that a triangle of nine numbers cannot be nearer to the body than: its least
 * heights over the core's planes, taken one by one and, where two planes meet in an edge that is
 * nearer than both, by twos. Negative values say only that no plane parts the two. Past `reach`
 * the first distance found will do.
 */
export function triangleBound(planes: BodyPlanes, t: Float64Array, reach: number): number {
  const { bounds, face, heights, radius } = planes;
  const under = triangleHeight(face, 0, t);
  if (under > reach) return under;
  for (let i = 0; i < heights.length; i++) {
    heights[i] = triangleHeight(bounds, i * 4, t);
    if (heights[i] - radius > reach) return heights[i] - radius;
  }
  return boundFrom(planes, under);
}

/** The same for all that lies in a box (min x, y, z, max x, y, z at `at`). */
export function boxBound(planes: BodyPlanes, boxes: Float32Array, at: number, reach: number): number {
  const { bounds, face, heights, radius } = planes;
  const under = boxHeight(face, 0, boxes, at);
  if (under > reach) return under;
  for (let i = 0; i < heights.length; i++) {
    heights[i] = boxHeight(bounds, i * 4, boxes, at);
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

/** Least height of a triangle over a plane. */
function triangleHeight(planes: Float64Array, at: number, t: Float64Array): number {
  const nx = planes[at];
  const ny = planes[at + 1];
  const nz = planes[at + 2];
  const a = nx * t[0] + ny * t[1] + nz * t[2];
  const b = nx * t[3] + ny * t[4] + nz * t[5];
  const c = nx * t[6] + ny * t[7] + nz * t[8];
  return Math.min(a, b, c) - planes[at + 3];
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

/** True when one of a triangle's corners lies beyond the face and behind all planes of the grown core. */
export function hasCornerInside({ core, radius, face }: BodyPlanes, t: Float64Array): boolean {
  for (let c = 0; c < 9; c += 3) {
    let inside = face[0] * t[c] + face[1] * t[c + 1] + face[2] * t[c + 2] < face[3];
    for (let i = 0; i < core.length && inside; i += 4) {
      inside = core[i] * t[c] + core[i + 1] * t[c + 1] + core[i + 2] * t[c + 2] - core[i + 3] < radius;
    }
    if (inside) return true;
  }
  return false;
}
