import type { Mesh } from '../../mesh/mesh.ts';
import type { Audit } from '../../mesh/topology/audit.ts';
import { LIMITS } from '../../model/limits.ts';
import { diagonalOf, shellsOf } from '../shells/shell-parts.ts';
import { MEND_TUNING } from '../tuning.ts';
import { holeOutlines } from './hole-outlines.ts';

/**
 * The outlines of holes that can be closed without asking: those small beside the figure and beside their shell (an
 * outline as large as its shell is the rim of a sheet, and no hole), and straight cracks of any length, as an edge
 * leaves that has a vertex on one side only.
 * @param size diagonal of the whole figure's box, mm.
 */
export function smallHoles(mesh: Mesh, audit: Audit, size: number): Uint32Array[] {
  const outlines = holeOutlines(mesh);
  if (outlines.length === 0) return [];
  const shells = shellsOf(mesh, audit);
  const shellAt = new Map(outlines.map((ring) => [ring[0], 0]));
  mesh.triangles.forEach((v, corner) => {
    if (shellAt.has(v)) shellAt.set(v, audit.shellOf[(corner / 3) | 0]);
  });
  return outlines.filter((ring) => {
    const shell = shells[shellAt.get(ring[0]) as number];
    const extent = extentOf(mesh.positions, ring);
    // As many triangles as would close the outline are a strip that it goes all round.
    if (widthOf(mesh.positions, ring) <= MEND_TUNING.rimShare * size)
      return shell.ids.length > ring.length - 2;
    const share = ring.length <= LIMITS.fewCorners ? LIMITS.fewCornersShare : LIMITS.smallHoleShare;
    return extent <= share * size && extent <= MEND_TUNING.holeInShell * diagonalOf(shell.bounds);
  });
}

/** Diagonal of the box round a ring of vertices, mm. */
function extentOf(p: Float32Array, ring: Uint32Array): number {
  const extents = [0, 1, 2].map((k) => {
    let [low, high] = [Infinity, -Infinity];
    for (const v of ring) {
      low = Math.min(low, p[v * 3 + k]);
      high = Math.max(high, p[v * 3 + k]);
    }
    return high - low;
  });
  return Math.hypot(...extents);
}

/** Greatest distance (mm) of a ring's vertices from the line through its first and the one farthest from that. */
function widthOf(p: Float32Array, ring: Uint32Array): number {
  const [ox, oy, oz] = p.subarray(ring[0] * 3, ring[0] * 3 + 3);
  const arms = Array.from(ring, (v) => [p[v * 3] - ox, p[v * 3 + 1] - oy, p[v * 3 + 2] - oz]);
  const lengths = arms.map((arm) => Math.hypot(...arm));
  const length = lengths.reduce((a, b) => Math.max(a, b), 0);
  const [ax, ay, az] = arms[lengths.indexOf(length)];
  const away = arms.map(([x, y, z]) => Math.hypot(ay * z - az * y, az * x - ax * z, ax * y - ay * x));
  return length > 0 ? away.reduce((a, b) => Math.max(a, b), 0) / length : 0;
}
