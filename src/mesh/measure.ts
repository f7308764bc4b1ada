import { add, scale, type Vec3 } from '../math/vec3.ts';
import type { Mesh } from './mesh.ts';

export interface Bounds {
  min: Vec3;
  max: Vec3;
}

/** Smallest box around all vertices, mm. A mesh without vertices gets an empty box at zero. */
export function boundsOf(mesh: Mesh): Bounds {
  const p = mesh.positions;
  if (p.length === 0) return { min: [0, 0, 0], max: [0, 0, 0] };
  let [minX, minY, minZ] = p;
  let [maxX, maxY, maxZ] = p;
  for (let i = 3; i < p.length; i += 3) {
    const x = p[i];
    const y = p[i + 1];
    const z = p[i + 2];
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
    if (z < minZ) minZ = z;
    if (z > maxZ) maxZ = z;
  }
  return { min: [minX, minY, minZ], max: [maxX, maxY, maxZ] };
}

/** Middle of a box, mm. */
export const middleOf = ({ min, max }: Bounds): Vec3 => scale(add(min, max), 0.5);

export interface Measures {
  /** Positive where triangles face outward; means something for a closed mesh only. */
  volumeMm3: number;
  areaMm2: number;
  /** Centre of the enclosed volume, mm; the middle of the bounds where there is none. */
  centroid: Vec3;
}

/**
 * Volume, area and centroid by the divergence theorem: 1/6 Σ v1·(v2×v3)
 * (Mirtich, *J. Graphics Tools* 1(2), 1996), in double precision and about the middle
 * of the bounds, so that nothing cancels on a mesh that lies far from its origin.
 */
export function measureMesh(mesh: Mesh, { min, max } = boundsOf(mesh)): Measures {
  const { positions: p, triangles: t } = mesh;
  const ox = (min[0] + max[0]) / 2;
  const oy = (min[1] + max[1]) / 2;
  const oz = (min[2] + max[2]) / 2;
  let area = 0;
  let volume = 0;
  let mx = 0;
  let my = 0;
  let mz = 0;
  for (let i = 0; i < t.length; i += 3) {
    const a = t[i] * 3;
    const b = t[i + 1] * 3;
    const c = t[i + 2] * 3;
    const ax = p[a] - ox;
    const ay = p[a + 1] - oy;
    const az = p[a + 2] - oz;
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    const vz = p[c + 2] - p[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const six = ax * nx + ay * ny + az * nz;
    area += Math.sqrt(nx * nx + ny * ny + nz * nz);
    volume += six;
    mx += six * (3 * ax + ux + vx);
    my += six * (3 * ay + uy + vy);
    mz += six * (3 * az + uz + vz);
  }
  const k = volume === 0 ? 0 : 1 / (4 * volume);
  return {
    volumeMm3: volume / 6,
    areaMm2: area / 2,
    centroid: [ox + mx * k, oy + my * k, oz + mz * k],
  };
}
