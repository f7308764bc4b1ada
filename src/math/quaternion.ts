import { cross, dot, normalize, type Vec3 } from './vec3.ts';

/** A turn in space: x, y, z, w of a quaternion of length 1. */
export type Quaternion = readonly [x: number, y: number, z: number, w: number];

/** No turn at all. */
export const NO_TURN: Quaternion = [0, 0, 0, 1];

/** One place or direction turned about zero. */
export function turnedVec(p: Vec3, turn: Quaternion): Vec3 {
  const [x, y, z] = turned(p, turn);
  return [x, y, z];
}

/** First `first`, then `then`, as one turn of length 1 with w not negative. */
export function compose(first: Quaternion, then: Quaternion): Quaternion {
  const [ax, ay, az, aw] = then;
  const [bx, by, bz, bw] = first;
  const product = [
    aw * bx + ax * bw + ay * bz - az * by,
    aw * by - ax * bz + ay * bw + az * bx,
    aw * bz + ax * by - ay * bx + az * bw,
    aw * bw - ax * bx - ay * by - az * bz,
  ];
  const norm = Math.hypot(...product) * (product[3] < 0 ? -1 : 1);
  const [x, y, z, w] = product.map((c) => c / norm);
  return [x, y, z, w];
}

/** The turn by an angle about a unit axis, counter-clockwise seen against it. */
export function turnAbout(axis: Vec3, deg: number): Quaternion {
  const half = (deg * Math.PI) / 360;
  const s = Math.sin(half);
  return [axis[0] * s, axis[1] * s, axis[2] * s, Math.cos(half)];
}

/** The shortest turn that brings unit vector `from` to `to`; of opposite ones, half a turn about an axis square to both. */
export function turnBetween(from: Vec3, to: Vec3): Quaternion {
  const w = 1 + dot(from, to);
  if (w > OPPOSITE) {
    const axis = cross(from, to);
    return compose([axis[0], axis[1], axis[2], w], NO_TURN);
  }
  const aside: Vec3 = Math.abs(from[0]) < 0.9 ? [1, 0, 0] : [0, 1, 0];
  return turnAbout(normalize(cross(from, aside)), 180);
}

/** The turn that brings three unit vectors, square to each other and right-handed, onto x, y and z (Shepperd, *J. Guidance and Control* 1(3), 1978). */
export function turnOnto([x, y, z]: readonly [Vec3, Vec3, Vec3]): Quaternion {
  const trace = x[0] + y[1] + z[2];
  const w = 1 + trace;
  if (trace > 0) return compose([z[1] - y[2], x[2] - z[0], y[0] - x[1], w], NO_TURN);
  if (x[0] >= y[1] && x[0] >= z[2]) {
    return compose([1 + 2 * x[0] - trace, x[1] + y[0], x[2] + z[0], z[1] - y[2]], NO_TURN);
  }
  return y[1] >= z[2]
    ? compose([x[1] + y[0], 1 + 2 * y[1] - trace, y[2] + z[1], x[2] - z[0]], NO_TURN)
    : compose([x[2] + z[0], y[2] + z[1], 1 + 2 * z[2] - trace, y[0] - x[1]], NO_TURN);
}

/** A turn as turns about x, then y, then z of the space it is in, degrees each; straight up or down x, that about z is none. */
export function anglesOf(turn: Quaternion): Vec3 {
  const [m00, m01, , m10, m11, , m20, m21, m22] = rotationOf(turn);
  const deg = (radians: number) => (radians * 180) / Math.PI;
  const y = deg(Math.asin(Math.max(-1, Math.min(1, 0 - m20))));
  if (Math.abs(m20) > 1 - 1e-12) return [deg(Math.atan2(m20 < 0 ? m01 : 0 - m01, m11)), y, 0];
  return [deg(Math.atan2(m21, m22)), y, deg(Math.atan2(m10, m00))];
}

/** Vectors nearer to opposite than this have no axis between them that rounding would leave. */
const OPPOSITE = 1e-12;

/** Points (x, y, z each) turned about zero, in double precision. The quaternion's length plays no part. */
export function turned(points: ArrayLike<number>, turn: Quaternion): Float64Array {
  const [m00, m01, m02, m10, m11, m12, m20, m21, m22] = rotationOf(turn);
  const dst = new Float64Array(points.length);
  for (let i = 0; i < dst.length; i += 3) {
    const x = points[i];
    const y = points[i + 1];
    const z = points[i + 2];
    dst[i] = m00 * x + m01 * y + m02 * z;
    dst[i + 1] = m10 * x + m11 * y + m12 * z;
    dst[i + 2] = m20 * x + m21 * y + m22 * z;
  }
  return dst;
}

/** The matrix of a turn, row by row (Euler–Rodrigues: Shoemake, *SIGGRAPH* 1985). */
function rotationOf([x, y, z, w]: Quaternion): number[] {
  const s = 2 / (x * x + y * y + z * z + w * w);
  return [
    1 - s * (y * y + z * z),
    s * (x * y - z * w),
    s * (x * z + y * w),
    s * (x * y + z * w),
    1 - s * (x * x + z * z),
    s * (y * z - x * w),
    s * (x * z - y * w),
    s * (y * z + x * w),
    1 - s * (x * x + y * y),
  ];
}
