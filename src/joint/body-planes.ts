import type { BodySpec } from './parallel-body.ts';
import { coreCorner } from './parallel-body.ts';
import type { JointFrame } from './place-body.ts';

/**
 * Planes that bound a joint's body beyond the face: its sides, its flat end, and the face
 * itself, each as unit outward normal x, y, z and offset (mm), four numbers a plane.
 * The body lies behind all of them; they enclose a little more, for they ignore its rounding.
 */
export function bodyPlanes(spec: BodySpec, frame: JointFrame): Float64Array {
  const { corners, draft, radius, coreTop } = spec;
  const planes: number[] = [];
  const add = (nx: number, ny: number, nz: number, offset: number) => {
    const { foot, x, y, z } = frame;
    const n = [0, 1, 2].map((k) => nx * x[k] + ny * y[k] + nz * z[k]);
    planes.push(...n, offset + n[0] * foot[0] + n[1] * foot[1] + n[2] * foot[2]);
  };
  for (let k = 0; k < corners.length; k++) {
    const [ax, ay] = coreCorner(spec, k, 0);
    const [bx, by] = coreCorner(spec, (k + 1) % corners.length, 0);
    const l = Math.hypot(bx - ax, by - ay);
    const nx = ((by - ay) / l) * Math.cos(draft);
    const ny = ((ax - bx) / l) * Math.cos(draft);
    add(nx, ny, Math.sin(draft), nx * ax + ny * ay + radius);
  }
  add(0, 0, 1, coreTop + radius);
  add(0, 0, -1, 0);
  return Float64Array.from(planes);
}

/**
 * A distance (mm) no triangle of nine numbers can be nearer to the body than: the greatest,
 * over the planes, of its nearest corner's height above the plane. Negative values say only
 * that no plane parts the two.
 */
export function distanceBound(planes: Float64Array, t: Float64Array): number {
  let bound = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < planes.length; i += 4) {
    const nx = planes[i];
    const ny = planes[i + 1];
    const nz = planes[i + 2];
    const a = nx * t[0] + ny * t[1] + nz * t[2];
    const b = nx * t[3] + ny * t[4] + nz * t[5];
    const c = nx * t[6] + ny * t[7] + nz * t[8];
    const height = (a < b ? Math.min(a, c) : Math.min(b, c)) - planes[i + 3];
    if (height > bound) bound = height;
  }
  return bound;
}

/** True when one of a triangle's corners lies behind all planes. */
export function hasCornerInside(planes: Float64Array, t: Float64Array): boolean {
  for (let c = 0; c < 9; c += 3) {
    let inside = true;
    for (let i = 0; i < planes.length && inside; i += 4) {
      inside = planes[i] * t[c] + planes[i + 1] * t[c + 1] + planes[i + 2] * t[c + 2] < planes[i + 3];
    }
    if (inside) return true;
  }
  return false;
}
