import type { Vec3 } from './vec3.ts';

/** A symmetric 3 × 3 matrix: xx, yy, zz, xy, xz, yz. */
export type Symmetric3 = readonly [number, number, number, number, number, number];

/** Sweeps of rotations that are made at the most: a handful suffices for any matrix of this size. */
const MOST_SWEEPS = 24;

/** The places off the diagonal. */
const PAIRS = [
  [0, 1],
  [0, 2],
  [1, 2],
] as const;

/**
 * Eigenvalues, least first, each with its unit eigenvector, by Jacobi's rotations (Golub and Van Loan, *Matrix
 * Computations*, §8.5). The vectors are square to each other, those of equal values too.
 */
export function principalAxes([xx, yy, zz, xy, xz, yz]: Symmetric3): { value: number; axis: Vec3 }[] {
  const m = [
    [xx, xy, xz],
    [xy, yy, yz],
    [xz, yz, zz],
  ];
  const axes = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  const size = Math.max(...m.flat().map(Math.abs));
  for (let sweep = 0; sweep < MOST_SWEEPS; sweep++) {
    const off = Math.max(...PAIRS.map(([p, q]) => Math.abs(m[p][q])));
    if (off <= Number.EPSILON * 1e-3 * size) break;
    for (const [p, q] of PAIRS) rotate(m, axes, p, q);
  }
  return [0, 1, 2]
    .map((k) => ({ value: m[k][k], axis: [axes[0][k], axes[1][k], axes[2][k]] as Vec3 }))
    .sort((a, b) => a.value - b.value);
}

/** Turns rows and columns p and q so that what they have in common becomes zero; `axes` keeps the turns made so far. */
function rotate(m: number[][], axes: number[][], p: number, q: number): void {
  if (m[p][q] === 0) return;
  const theta = (m[q][q] - m[p][p]) / (2 * m[p][q]);
  const t = (theta < 0 ? -1 : 1) / (Math.abs(theta) + Math.sqrt(theta * theta + 1));
  const c = 1 / Math.sqrt(t * t + 1);
  const s = t * c;
  for (const row of [...m, ...axes]) {
    const [a, b] = [row[p], row[q]];
    row[p] = c * a - s * b;
    row[q] = s * a + c * b;
  }
  for (let k = 0; k < 3; k++) {
    const [a, b] = [m[p][k], m[q][k]];
    m[p][k] = c * a - s * b;
    m[q][k] = s * a + c * b;
  }
}

/** The x of m · x = b by Cramer's rule; null where there is no single one. */
export function solveSymmetric([xx, yy, zz, xy, xz, yz]: Symmetric3, [p, q, r]: Vec3): Vec3 | null {
  // Cofactors of the matrix, which are its inverse but for the determinant.
  const [a, b, c] = [yy * zz - yz * yz, xz * yz - xy * zz, xy * yz - xz * yy];
  const [d, e, f] = [xx * zz - xz * xz, xy * xz - xx * yz, xx * yy - xy * xy];
  const determinant = xx * a + xy * b + xz * c;
  if (!(Math.abs(determinant) > 0)) return null;
  return [
    (a * p + b * q + c * r) / determinant,
    (b * p + d * q + e * r) / determinant,
    (c * p + e * q + f * r) / determinant,
  ];
}
