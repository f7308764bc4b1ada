/** A turn in space: x, y, z, w of a quaternion of length 1. */
export type Quaternion = readonly [x: number, y: number, z: number, w: number];

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
