import type { Symmetric3 } from '../../math/symmetric3.ts';
import type { Vec3 } from '../../math/vec3.ts';
import { type Bounds, middleOf } from '../measure.ts';
import type { Mesh } from '../mesh.ts';

/** How a closed mesh's volume lies. */
export interface VolumeMoments {
  /** Centre of the volume, mm. */
  centroid: Vec3;
  /** Integrals of x², y², z², xy, xz and yz over the volume, about its centre, mm⁵. */
  second: Symmetric3;
  areaMm2: number;
}

/** Triangles taken in one go: few enough that the loop is compiled before it has seen most of a figure. */
const SLICE = 1 << 14;

/** Volume (times six), first (times 24) and second moments (times 120) and area (twice), as they are added up. */
type Sums = Float64Array;

/**
 * Moments of a closed mesh's volume: of the tetrahedron between the origin and a triangle with corners a, b, c and six
 * times the volume D the second ones are D/120 (aaᵀ + bbᵀ + ccᵀ + ssᵀ), s = a + b + c (Tonon, *J. Math. Stat.* 1(1),
 * 2004). In double precision, about the middle of the bounds.
 */
export function volumeMoments(mesh: Mesh, bounds: Bounds): VolumeMoments {
  const middle = middleOf(bounds);
  const sums: Sums = new Float64Array(11);
  const { length } = mesh.triangles;
  for (let from = 0; from < length; from += SLICE * 3)
    addMoments(mesh, from, Math.min(length, from + SLICE * 3), middle, sums);
  const [six, mx, my, mz, xx, yy, zz, xy, xz, yz, area] = sums;
  const volume = six / 6;
  const [x, y, z] = six === 0 ? [0, 0, 0] : [mx, my, mz].map((m) => m / (4 * six));
  const second: Symmetric3 = [
    xx / 120 - volume * x * x,
    yy / 120 - volume * y * y,
    zz / 120 - volume * z * z,
    xy / 120 - volume * x * y,
    xz / 120 - volume * x * z,
    yz / 120 - volume * y * z,
  ];
  return { centroid: [middle[0] + x, middle[1] + y, middle[2] + z], second, areaMm2: area / 2 };
}

function addMoments(
  { positions: p, triangles: t }: Mesh,
  from: number,
  to: number,
  [ox, oy, oz]: Vec3,
  sums: Sums,
): void {
  for (let i = from; i < to; i += 3) {
    const a = t[i] * 3;
    const b = t[i + 1] * 3;
    const c = t[i + 2] * 3;
    const ax = p[a] - ox;
    const ay = p[a + 1] - oy;
    const az = p[a + 2] - oz;
    const bx = p[b] - ox;
    const by = p[b + 1] - oy;
    const bz = p[b + 2] - oz;
    const cx = p[c] - ox;
    const cy = p[c + 1] - oy;
    const cz = p[c + 2] - oz;
    const nx = (by - ay) * (cz - az) - (bz - az) * (cy - ay);
    const ny = (bz - az) * (cx - ax) - (bx - ax) * (cz - az);
    const nz = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax);
    const six = ax * nx + ay * ny + az * nz;
    const sx = ax + bx + cx;
    const sy = ay + by + cy;
    const sz = az + bz + cz;
    sums[0] += six;
    sums[1] += six * sx;
    sums[2] += six * sy;
    sums[3] += six * sz;
    sums[4] += six * (ax * ax + bx * bx + cx * cx + sx * sx);
    sums[5] += six * (ay * ay + by * by + cy * cy + sy * sy);
    sums[6] += six * (az * az + bz * bz + cz * cz + sz * sz);
    sums[7] += six * (ax * ay + bx * by + cx * cy + sx * sy);
    sums[8] += six * (ax * az + bx * bz + cx * cz + sx * sz);
    sums[9] += six * (ay * az + by * bz + cy * cz + sy * sz);
    sums[10] += Math.sqrt(nx * nx + ny * ny + nz * nz);
  }
}
