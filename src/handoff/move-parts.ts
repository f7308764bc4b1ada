import { TOLERANCES } from '../math/tolerances.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { Part } from '../mesh/part/part.ts';
import { PlaceTable } from '../mesh/topology/place-table.ts';

/**
 * How far all parts of a job are moved to be written, mm: not at all where single precision holds each of them at
 * the file's own coordinates (their own plus `originMm`), else to their own coordinates, in which they were measured.
 * All by the same vector, so that they still lie against each other.
 */
export function partsMoveMm(parts: readonly Part[], originMm: Vec3): Vec3 {
  const holds = originMm.every((o) => o === 0) || parts.every((part) => holdsAt(part, originMm));
  return holds ? [0, 0, 0] : [0 - originMm[0], 0 - originMm[1], 0 - originMm[2]];
}

/**
 * True where rounding a part's places to single precision moves no vertex farther than `TOLERANCES.written`, changes
 * the volume by no more than `TOLERANCES.writtenVolume` of it, and puts no two vertices in one place.
 */
function holdsAt(part: Part, originMm: Vec3): boolean {
  let coneMm3 = 0;
  let changeMm3 = 0;
  for (const { triangles } of part.patches) {
    const cone = conesOf(part, triangles, originMm);
    coneMm3 += cone.own;
    changeMm3 += cone.written - cone.own;
  }
  if (Math.abs(changeMm3) > TOLERANCES.writtenVolume * Math.abs(coneMm3)) return false;
  const { positions, added } = part;
  return keepsPlaces(positions, originMm) && keeps(added, [added, positions], originMm);
}

interface Cones {
  originMm: Vec3;
  /** Volume of the cone from the coordinate origin over the triangles, mm³; a closed part's sum to its volume. */
  own: number;
  /** The same with every corner where it is written. */
  written: number;
}

/** Kept as long as the triangles are: an edit asks only for what it made. */
const knownCones = new WeakMap<Uint32Array, Cones>();

function conesOf(part: Part, triangles: Uint32Array, originMm: Vec3): Cones {
  const known = knownCones.get(triangles);
  if (known && isSame(known.originMm, originMm)) return known;
  const { positions: p, added } = part;
  const own = new Float64Array(9);
  const written = new Float64Array(9);
  let [ownSix, writtenSix] = [0, 0];
  for (let i = 0; i < triangles.length; i += 3) {
    for (let k = 0; k < 9; k++) {
      const at = triangles[i + ((k / 3) | 0)] * 3 + (k % 3);
      own[k] = at < p.length ? p[at] : added[at - p.length];
      written[k] = asWritten(own[k], originMm[k % 3]);
    }
    ownSix += determinant(own);
    writtenSix += determinant(written);
  }
  const cones = { originMm, own: ownSix / 6, written: writtenSix / 6 };
  knownCones.set(triangles, cones);
  return cones;
}

/** a·(b×c) of three corners: six times the volume of their cone (Mirtich, *J. Graphics Tools* 1(2), 1996). */
const determinant = (c: Float64Array): number =>
  c[0] * (c[4] * c[8] - c[5] * c[7]) +
  c[1] * (c[5] * c[6] - c[3] * c[8]) +
  c[2] * (c[3] * c[7] - c[4] * c[6]);

/** Where a coordinate comes to lie in the file, less the origin again: that difference is exact in doubles. */
const asWritten = (x: number, origin: number): number => Math.fround(x + origin) - origin;

const isSame = (a: Vec3, b: Vec3): boolean => a.every((x, k) => x === b[k]);

const knownPlaces = new WeakMap<Float32Array, { originMm: Vec3; kept: boolean }>();

function keepsPlaces(positions: Float32Array, originMm: Vec3): boolean {
  const known = knownPlaces.get(positions);
  if (known && isSame(known.originMm, originMm)) return known.kept;
  const kept = keeps(positions, [positions], originMm);
  knownPlaces.set(positions, { originMm, kept });
  return kept;
}

/**
 * True where no vertex of `src` is rounded too far, nor to the place of another of `among`. A figure's own vertices
 * mostly come out as they went in, so only those near the moved ones are looked up.
 */
function keeps(src: Float32Array, among: readonly Float32Array[], originMm: Vec3): boolean {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < src.length; i += 3) {
    let off = 0;
    for (let k = 0; k < 3; k++)
      off = Math.max(off, Math.abs(asWritten(src[i + k], originMm[k]) - src[i + k]));
    if (off > TOLERANCES.written) return false;
    if (off === 0) continue;
    for (let k = 0; k < 3; k++) {
      const x = asWritten(src[i + k], originMm[k]);
      if (x < low[k]) low[k] = x;
      if (x > high[k]) high[k] = x;
    }
  }
  return low[0] > high[0] || !fuses(among, low, high, originMm);
}

/** True where vertices that lie apart are written to one place of a box. */
function fuses(
  among: readonly Float32Array[],
  low: readonly number[],
  high: readonly number[],
  originMm: Vec3,
): boolean {
  const own = new PlaceTable(1024);
  const written = new PlaceTable(1024);
  for (const p of among) {
    for (let i = 0; i < p.length; i += 3) {
      const x = asWritten(p[i], originMm[0]);
      if (x < low[0] || x > high[0]) continue;
      const y = asWritten(p[i + 1], originMm[1]);
      if (y < low[1] || y > high[1]) continue;
      const z = asWritten(p[i + 2], originMm[2]);
      if (z < low[2] || z > high[2]) continue;
      own.number(p[i], p[i + 1], p[i + 2]);
      written.number(p[i] + originMm[0], p[i + 1] + originMm[1], p[i + 2] + originMm[2]);
    }
  }
  return written.count < own.count;
}
