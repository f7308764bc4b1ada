import type { Vec3 } from '../../math/vec3.ts';
import type { Mesh } from '../../mesh/mesh.ts';
import { windingNumber } from './winding-number.ts';

/** How far beneath a triangle its material is asked for, as a share of the triangle's least height. */
const DEPTH = 1e-3;

/**
 * True where there is material more than once just beneath a triangle of a closed mesh: the winding number there is
 * 1 under a skin that is alone, also under a hollow's.
 * @param corner where the triangle begins in the mesh's triangles.
 */
export function isDoubledBeneath(mesh: Mesh, corner: number): boolean {
  const { positions: p, triangles: t } = mesh;
  const [a, b, c] = [0, 1, 2].map((k) => t[corner + k] * 3);
  const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
  const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
  const normal: Vec3 = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  const twice = Math.hypot(...normal);
  if (twice === 0) return false;
  const depth = DEPTH * leastHeight(mesh, corner);
  const [x, y, z] = normal.map((n, k) => (p[a + k] + p[b + k] + p[c + k]) / 3 - (n / twice) * depth);
  return (windingNumber(mesh, x, y, z) ?? 1) > 1;
}

/** Least height of a triangle, mm: twice its area over its longest side; 0 for one without area. */
export function leastHeight({ positions: p, triangles: t }: Mesh, corner: number): number {
  const [a, b, c] = [0, 1, 2].map((k) => t[corner + k] * 3);
  const side = (i: number, j: number) => Math.hypot(p[j] - p[i], p[j + 1] - p[i + 1], p[j + 2] - p[i + 2]);
  const sides = [side(a, b), side(b, c), side(c, a)].sort((s, o) => s - o);
  // Heron's formula as Kahan orders it, which keeps its digits on needles.
  const [z, y, x] = sides;
  const square = (x + (y + z)) * (z - (x - y)) * (z + (x - y)) * (x + (y - z));
  return x > 0 ? Math.sqrt(Math.max(0, square)) / 2 / x : 0;
}
