import type { Mesh } from '../../mesh/mesh.ts';
import { groupEdges, nextHalf } from './edge-groups.ts';
import { NO_MATE } from './pair-edges.ts';

/**
 * Takes apart edges whose surfaces hang together at both ends, so that vertices of their own cannot tell them: every
 * pair of triangles but one gets a vertex in the edge's middle, rounded to singles, and is divided there. A triangle
 * is divided once at most; call again while edges of more than two triangles are left.
 */
export function partCrowdedEdges(mesh: Mesh, mates: Int32Array): Mesh {
  const { positions: p, triangles: t } = mesh;
  const { starts, halves } = groupEdges(mesh);
  const middles: number[] = [];
  const triangles = [...t];
  const isDivided = new Set<number>();
  for (let g = 0; g + 1 < starts.length; g++) {
    if (starts[g + 1] - starts[g] <= 2) continue;
    const group = halves.subarray(starts[g], starts[g + 1]);
    const pairs = [...group].filter((h) => mates[h] !== NO_MATE && h < mates[h]).slice(1);
    for (const h of pairs) {
      const two = [h, mates[h]];
      if (two.some((half) => isDivided.has((half / 3) | 0))) continue;
      const m = (p.length + middles.length) / 3;
      for (let k = 0; k < 3; k++) middles.push((p[t[h] * 3 + k] + p[t[nextHalf(h)] * 3 + k]) / 2);
      for (const half of two) {
        isDivided.add((half / 3) | 0);
        const [end, far] = [nextHalf(half), nextHalf(nextHalf(half))];
        triangles.push(m, t[end], t[far]);
        triangles[end] = m;
      }
    }
  }
  if (middles.length === 0) return mesh;
  const positions = new Float32Array(p.length + middles.length);
  positions.set(p);
  positions.set(middles, p.length);
  return { positions, triangles: Uint32Array.from(triangles) };
}
