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
  radius: number;
  /** The face: unit normal away from the body, and offset (mm). */
  face: Float64Array;
  /** Cosines between the core's normals, row by row. */
  cosines: Float64Array;
  /** Room for the heights over the core's planes of what is being looked at. */
  heights: Float64Array;
}

export function bodyPlanes(spec: BodySpec, frame: JointFrame): BodyPlanes {
  const { corners, draft, radius, coreTop } = spec;
  const { foot, x, y, z } = frame;
  const core: number[] = [];
  const add = (nx: number, ny: number, nz: number, offset: number) => {
    const n = [0, 1, 2].map((k) => nx * x[k] + ny * y[k] + nz * z[k]);
    core.push(...n, offset + n[0] * foot[0] + n[1] * foot[1] + n[2] * foot[2]);
  };
  for (let k = 0; k < corners.length; k++) {
    const [ax, ay] = coreCorner(spec, k, 0);
    const [bx, by] = coreCorner(spec, (k + 1) % corners.length, 0);
    const l = Math.hypot(bx - ax, by - ay);
    const nx = ((by - ay) / l) * Math.cos(draft);
    const ny = ((ax - bx) / l) * Math.cos(draft);
    add(nx, ny, Math.sin(draft), nx * ax + ny * ay);
  }
  add(0, 0, 1, coreTop);
  const count = core.length / 4;
  const cosines = Float64Array.from({ length: count * count }, (_, at) => {
    const i = Math.floor(at / count) * 4;
    const j = (at % count) * 4;
    return core[i] * core[j] + core[i + 1] * core[j + 1] + core[i + 2] * core[j + 2];
  });
  return {
    core: Float64Array.from(core),
    radius,
    face: Float64Array.of(-z[0], -z[1], -z[2], -dot(z, foot)),
    cosines,
    heights: new Float64Array(count),
  };
}

/**
 * A distance (mm) that a triangle of nine numbers cannot be nearer to the body than: its least
 * heights over the core's planes, taken one by one and, where two planes meet in an edge that is
 * nearer than both, by twos. Negative values say only that no plane parts the two. Past `reach`
 * the first distance found will do.
 */
export function triangleBound(planes: BodyPlanes, t: Float64Array, reach: number): number {
  const { core, face, heights, radius } = planes;
  const under = triangleHeight(face, 0, t);
  if (under > reach) return under;
  for (let i = 0; i < heights.length; i++) {
    heights[i] = triangleHeight(core, i * 4, t);
    if (heights[i] - radius > reach) return heights[i] - radius;
  }
  return boundFrom(planes, under);
}

/** The same for all that lies in a box (min x, y, z, max x, y, z at `at`). */
export function boxBound(planes: BodyPlanes, boxes: Float32Array, at: number, reach: number): number {
  const { core, face, heights, radius } = planes;
  const under = boxHeight(face, 0, boxes, at);
  if (under > reach) return under;
  for (let i = 0; i < heights.length; i++) {
    heights[i] = boxHeight(core, i * 4, boxes, at);
    if (heights[i] - radius > reach) return heights[i] - radius;
  }
  return boundFrom(planes, under);
}

function boundFrom({ radius, cosines, heights }: BodyPlanes, faceHeight: number): number {
  const count = heights.length;
  let bound = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < count; i++) {
    bound = Math.max(bound, heights[i]);
    for (let j = 0; j < i; j++)
      bound = Math.max(bound, wedgeDistance(heights[i], heights[j], cosines[i * count + j]));
  }
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
