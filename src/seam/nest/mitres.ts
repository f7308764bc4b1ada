/** Share of a vertex's whole weight that is put on going nowhere: normals nearer to each other than its root (0.2°) are one. */
const STILL = 1e-5;

/**
 * For each vertex the way that takes the planes of all its triangles out by 1: `positions + g · mitre` is the surface g
 * farther out, parallel to what it was. Where more than three planes meet it is the best for all, by their areas (least
 * squares over m·n = 1). Zeros where no triangle is. Three numbers a vertex, `triangles` counter-clockwise from outside.
 */
export function mitresOf(positions: ArrayLike<number>, triangles: Uint32Array): Float64Array {
  // Of each vertex Σ w n nᵀ (six numbers) and Σ w n (three).
  const sums = new Float64Array(positions.length * 3);
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [triangles[i] * 3, triangles[i + 1] * 3, triangles[i + 2] * 3];
    const [ux, uy, uz] = [0, 1, 2].map((k) => positions[b + k] - positions[a + k]);
    const [vx, vy, vz] = [0, 1, 2].map((k) => positions[c + k] - positions[a + k]);
    const n = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    const weight = Math.hypot(n[0], n[1], n[2]);
    if (weight === 0) continue;
    const [x, y, z] = n.map((value) => value / weight);
    const terms = [x * x, x * y, x * z, y * y, y * z, z * z, x, y, z];
    for (const v of [a, b, c]) for (let k = 0; k < 9; k++) sums[v * 3 + k] += weight * terms[k];
  }
  const mitres = new Float64Array(positions.length);
  for (let v = 0; v < positions.length; v += 3) solve(sums, v * 3, mitres, v);
  return mitres;
}

/** Solves one vertex's three equations by Cramer's rule. */
function solve(s: Float64Array, at: number, into: Float64Array, to: number): void {
  const still = STILL * (s[at] + s[at + 3] + s[at + 5]);
  if (still === 0) return;
  const [xx, xy, xz] = [s[at] + still, s[at + 1], s[at + 2]];
  const [yy, yz, zz] = [s[at + 3] + still, s[at + 4], s[at + 5] + still];
  const [x, y, z] = [s[at + 6], s[at + 7], s[at + 8]];
  const [a, b, c] = [yy * zz - yz * yz, xz * yz - xy * zz, xy * yz - xz * yy];
  const [d, e, f] = [xx * zz - xz * xz, xy * xz - xx * yz, xx * yy - xy * xy];
  const whole = xx * a + xy * b + xz * c;
  into[to] = (a * x + b * y + c * z) / whole;
  into[to + 1] = (b * x + d * y + e * z) / whole;
  into[to + 2] = (c * x + e * y + f * z) / whole;
}
