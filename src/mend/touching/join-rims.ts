import type { Mesh } from '../../mesh/mesh.ts';
import { borderOf } from '../../mesh/part/border.ts';
import { withoutUnused } from '../triangles/drop-triangles.ts';
import { MEND_TUNING } from '../tuning.ts';
import { groupNear } from './group-near.ts';

export interface JoinedRims {
  mesh: Mesh;
  /** Rim vertices that went into another. */
  joinedCount: number;
  /** Farthest a vertex moved, mm. */
  deviationMm: number;
}

/**
 * Joins rim vertices that lie within `toleranceMm` of each other, each group in its middle; vertices off the rims
 * stay. With `keepEdges` none is joined farther than half the shortest rim edge at it, so that no edge closes up.
 * Triangles that come to have two equal corners are still there.
 */
export function joinRims(mesh: Mesh, toleranceMm: number, keepEdges: boolean): JoinedRims {
  const { positions: src } = mesh;
  const { edges } = borderOf(mesh);
  const reachOf = new Float64Array(src.length / 3);
  for (let i = 0; i < edges.length; i++) reachOf[edges[i]] = toleranceMm;
  if (keepEdges) limitReach(src, edges, reachOf);
  const rim = Uint32Array.from(edges)
    .sort()
    .filter((v, i, all) => i === 0 || v !== all[i - 1]);
  const groups = groupNear(
    src,
    rim,
    Float64Array.from(rim, (v) => reachOf[v]),
    toleranceMm,
  );
  const middles = middlesOf(src, rim, groups);
  const positions = src.slice();
  const target = Uint32Array.from({ length: reachOf.length }, (_, v) => v);
  let joinedCount = 0;
  let deviationMm = 0;
  for (let n = 0; n < rim.length; n++) {
    const first = groups[n];
    if (first !== n) joinedCount++;
    target[rim[n]] = rim[first];
    const moved = distance(src, rim[n], middles, first);
    deviationMm = Math.max(deviationMm, moved);
    if (moved > 0) positions.set(middles.subarray(first * 3, first * 3 + 3), rim[n] * 3);
  }
  if (joinedCount === 0) return { mesh, joinedCount, deviationMm };
  const triangles = mesh.triangles.map((v) => target[v]);
  return { mesh: withoutUnused(positions, triangles), joinedCount, deviationMm };
}

/** Middle of each group, at the place of its first point, rounded to singles; a point alone is its own to the bit. */
function middlesOf(p: Float32Array, rim: Uint32Array, groups: Uint32Array): Float32Array {
  const sums = new Float64Array(rim.length * 3);
  const counts = new Uint32Array(rim.length);
  for (let n = 0; n < rim.length; n++) {
    counts[groups[n]]++;
    for (let k = 0; k < 3; k++) sums[groups[n] * 3 + k] += p[rim[n] * 3 + k];
  }
  return Float32Array.from(sums, (sum, i) => sum / (counts[(i / 3) | 0] || 1));
}

function distance(p: Float32Array, a: number, q: Float32Array, b: number): number {
  return Math.hypot(p[a * 3] - q[b * 3], p[a * 3 + 1] - q[b * 3 + 1], p[a * 3 + 2] - q[b * 3 + 2]);
}

function limitReach(p: Float32Array, edges: Uint32Array, reachOf: Float64Array): void {
  for (let i = 0; i < edges.length; i += 2) {
    const most = distance(p, edges[i], p, edges[i + 1]) * MEND_TUNING.rimEdgeShare;
    reachOf[edges[i]] = Math.min(reachOf[edges[i]], most);
    reachOf[edges[i + 1]] = Math.min(reachOf[edges[i + 1]], most);
  }
}
