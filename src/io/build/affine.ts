import type { Vec3 } from '../../math/vec3.ts';

/**
 * An affine map as twelve numbers, rows of a 4 × 3 matrix that stands right of a row vector:
 * x' = x·m0 + y·m3 + z·m6 + m9, and so on (3MF Core Specification 1.4.0, §3.3). The first three columns of a
 * glTF matrix, column by column, are the same numbers.
 */
export type Affine = readonly number[];

export const IDENTITY: Affine = [1, 0, 0, 0, 1, 0, 0, 0, 1, 0, 0, 0];

/** The map that scales everything by `factor`. */
export const scaling = (factor: number): Affine => [factor, 0, 0, 0, factor, 0, 0, 0, factor, 0, 0, 0];

/** First `inner`, then `outer`. */
export function compose(inner: Affine, outer: Affine): Affine {
  const rows: number[] = [];
  for (let row = 0; row < 4; row++) {
    const moved = applied(inner.slice(row * 3, row * 3 + 3) as unknown as Vec3, outer);
    // Only the last row is a place; the others are directions and do not move.
    for (let k = 0; k < 3; k++) rows.push(moved[k] - (row < 3 ? outer[9 + k] : 0));
  }
  return rows;
}

const applied = ([x, y, z]: Vec3, m: Affine): Vec3 => [
  x * m[0] + y * m[3] + z * m[6] + m[9],
  x * m[1] + y * m[4] + z * m[7] + m[10],
  x * m[2] + y * m[5] + z * m[8] + m[11],
];

/** True where the map turns a figure into its mirror image. */
export const isMirroring = (m: Affine): boolean =>
  m[0] * (m[4] * m[8] - m[5] * m[7]) -
    m[1] * (m[3] * m[8] - m[5] * m[6]) +
    m[2] * (m[3] * m[7] - m[4] * m[6]) <
  0;

export const isIdentity = (m: Affine): boolean => m.every((value, i) => value === IDENTITY[i]);

/** Writes the mapped points of `src` to `dst` from `at` on. */
export function mapPoints(src: ArrayLike<number>, m: Affine, dst: Float64Array, at: number): void {
  const [xx, xy, xz, yx, yy, yz, zx, zy, zz, ox, oy, oz] = m;
  for (let i = 0; i < src.length; i += 3) {
    const x = src[i];
    const y = src[i + 1];
    const z = src[i + 2];
    dst[at + i] = x * xx + y * yx + z * zx + ox;
    dst[at + i + 1] = x * xy + y * yy + z * zy + oy;
    dst[at + i + 2] = x * xz + y * yz + z * zz + oz;
  }
}
