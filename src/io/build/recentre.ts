import { PegwrightError } from '../../errors.ts';
import { type Quaternion, turned } from '../../math/quaternion.ts';
import { float32Step } from '../../math/tolerances.ts';
import type { Vec3 } from '../../math/vec3.ts';
import type { Mesh } from '../../mesh/mesh.ts';
import { LIMITS } from '../../model/limits.ts';
import type { RawMesh } from '../raw-mesh.ts';

export interface Recentred {
  mesh: Mesh;
  /** Add this to the mesh's coordinates for the file's, mm. */
  originMm: Vec3;
  /** Step between neighbouring places that the file's singles or those of the mesh can tell apart, at the farthest, mm. */
  stepMm: number;
}

/**
 * The mesh in millimetres, moved near zero where it lies far from the file's own origin.
 * Takes `raw` over: its array is changed and may become the mesh's.
 * @param mmPerUnit millimetres per unit of the file's numbers.
 * @param turn turns the millimetres about the file's origin, in double precision; `originMm` is of what comes out.
 * @throws PegwrightError `coordinates-not-finite`, also for places absurdly far off.
 */
export function recentre(file: string, raw: RawMesh, mmPerUnit: number, turn?: Quaternion): Recentred {
  const { positions, triangles } = raw;
  if (mmPerUnit !== 1) for (let i = 0; i < positions.length; i++) positions[i] *= mmPerUnit;
  const src = turn ? turned(positions, turn) : positions;
  const reach = intervals(file, src);
  const originMm = originOf(reach);
  // A text's numbers are as fine as it has them; what a file has in singles was coarse before it came here.
  const isSingle = positions instanceof Float32Array;
  const far = Math.max(...reach.flat().map((x, i) => Math.abs(isSingle ? x : x - originMm[i >> 1])));
  const [ox, oy, oz] = originMm;
  const dst = src instanceof Float32Array ? src : new Float32Array(src.length);
  if (dst !== src || ox !== 0 || oy !== 0 || oz !== 0) {
    for (let i = 0; i < src.length; i += 3) {
      dst[i] = src[i] - ox;
      dst[i + 1] = src[i + 1] - oy;
      dst[i + 2] = src[i + 2] - oz;
    }
  }
  return { mesh: { positions: dst, triangles }, originMm, stepMm: float32Step(far) };
}

type Interval = readonly [low: number, high: number];

/** Least and greatest coordinate of each axis. */
function intervals(file: string, p: RawMesh['positions']): [Interval, Interval, Interval] {
  let [minX, minY, minZ] = p;
  let [maxX, maxY, maxZ] = p;
  const limit = LIMITS.coordinateMm;
  let bad = 0;
  for (let i = 0; i < p.length; i += 3) {
    const x = p[i];
    const y = p[i + 1];
    const z = p[i + 2];
    // Written so that NaN counts as bad.
    if (!(Math.abs(x) <= limit && Math.abs(y) <= limit && Math.abs(z) <= limit)) bad++;
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
    if (z < minZ) minZ = z;
    if (z > maxZ) maxZ = z;
  }
  if (bad > 0) throw new PegwrightError('coordinates-not-finite', { file, count: bad });
  return [
    [minX, maxX],
    [minY, maxY],
    [minZ, maxZ],
  ];
}

const originOf = ([x, y, z]: [Interval, Interval, Interval]): Vec3 => [
  axisOrigin(x),
  axisOrigin(y),
  axisOrigin(z),
];

/**
 * What to take off one axis: 0 unless its interval lies at least as far from zero as it is long,
 * else a round number near the interval's middle. The move loses nothing. Say the interval is [l, h] with
 * 0 < h − l ≤ l. Singles in it are multiples of u, the step of singles at l, and so is the origin;
 * the origin lies within (h − l) of every point, so each difference is a multiple of u of at most l < 2²⁴ u.
 * A single holds that exactly, and the origin added again gives back the same single.
 */
function axisOrigin(interval: Interval): number {
  const low = Math.fround(interval[0]);
  const high = Math.fround(interval[1]);
  const extent = high - low;
  const near = Math.max(low, -high, 0);
  if (near === 0 || near < extent) return 0;
  const step = float32Step(near);
  const grid = extent > step ? 2 ** Math.floor(Math.log2(extent)) : step;
  return Math.round((low + high) / 2 / grid) * grid;
}
