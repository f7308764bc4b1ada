import type { Bounds } from '../../mesh/measure.ts';
import type { Mesh } from '../../mesh/mesh.ts';
import { type Audit, NO_SHELL } from '../../mesh/topology/audit.ts';

/** A connected surface of a mesh. */
export interface Shell {
  /** The whole mesh's vertices and this shell's triangles. */
  mesh: Mesh;
  /** The triangles' numbers in the whole mesh, ascending. */
  ids: Uint32Array;
  bounds: Bounds;
  /** By its own winding, mm³; means something for a closed shell only. */
  volumeMm3: number;
}

/** The shells of a mesh, in the audit's order; triangles that belong to none are left out. */
export function shellsOf({ positions, triangles: t }: Mesh, { shellCount, shellOf }: Audit): Shell[] {
  const sizes = new Uint32Array(shellCount);
  for (let i = 0; i < shellOf.length; i++) if (shellOf[i] !== NO_SHELL) sizes[shellOf[i]]++;
  const lists = Array.from(sizes, (size) => new Uint32Array(size));
  const filled = new Uint32Array(shellCount);
  for (let i = 0; i < shellOf.length; i++) {
    const shell = shellOf[i];
    if (shell !== NO_SHELL) lists[shell][filled[shell]++] = i;
  }
  return lists.map((ids) => {
    const triangles = new Uint32Array(ids.length * 3);
    for (let i = 0; i < ids.length; i++) {
      triangles[i * 3] = t[ids[i] * 3];
      triangles[i * 3 + 1] = t[ids[i] * 3 + 1];
      triangles[i * 3 + 2] = t[ids[i] * 3 + 2];
    }
    const bounds = boxOf(positions, triangles);
    return { mesh: { positions, triangles }, ids, bounds, volumeMm3: volumeOf(positions, triangles) };
  });
}

/** Smallest box round the corners of triangles, mm. */
function boxOf(p: Float32Array, triangles: Uint32Array): Bounds {
  const low = [Infinity, Infinity, Infinity];
  const high = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < triangles.length; i++) {
    for (let k = 0, at = triangles[i] * 3; k < 3; k++, at++) {
      if (p[at] < low[k]) low[k] = p[at];
      if (p[at] > high[k]) high[k] = p[at];
    }
  }
  return { min: [low[0], low[1], low[2]], max: [high[0], high[1], high[2]] };
}

/** Signed volume, 1/6 Σ a·(b×c) about the first corner (Mirtich, *J. Graphics Tools* 1(2), 1996), mm³. */
function volumeOf(p: Float32Array, triangles: Uint32Array): number {
  const o = triangles[0] * 3;
  const [ox, oy, oz] = [p[o], p[o + 1], p[o + 2]];
  let six = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    const a = triangles[i] * 3;
    const b = triangles[i + 1] * 3;
    const c = triangles[i + 2] * 3;
    const ax = p[a] - ox;
    const ay = p[a + 1] - oy;
    const az = p[a + 2] - oz;
    const bx = p[b] - ox;
    const by = p[b + 1] - oy;
    const bz = p[b + 2] - oz;
    const cx = p[c] - ox;
    const cy = p[c + 1] - oy;
    const cz = p[c + 2] - oz;
    six += ax * (by * cz - bz * cy) + ay * (bz * cx - bx * cz) + az * (bx * cy - by * cx);
  }
  return six / 6;
}

/** Length of a box's diagonal, mm. */
export const diagonalOf = ({ min, max }: Bounds): number =>
  Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]);

/** True where the first box reaches nowhere out of the second. */
export function boxWithin(inner: Bounds, outer: Bounds): boolean {
  for (let k = 0; k < 3; k++) {
    if (inner.min[k] < outer.min[k] || inner.max[k] > outer.max[k]) return false;
  }
  return true;
}

/** True where the boxes have a point in common. */
export function boxesMeet(a: Bounds, b: Bounds): boolean {
  for (let k = 0; k < 3; k++) if (a.min[k] > b.max[k] || b.min[k] > a.max[k]) return false;
  return true;
}
