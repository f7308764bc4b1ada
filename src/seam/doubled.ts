import { joinIndices } from '../mesh/part/join-indices.ts';
import type { MixedTriangles } from '../mesh/plane/crossing.ts';
import type { Ring } from '../mesh/plane/outline.ts';
import type { Trace } from '../mesh/plane/trace.ts';
import { PairTable } from '../mesh/topology/pair-table.ts';

/**
 * True where the face would share an edge inside it with the skin (the plane meets a hollow edge from
 * outside), or has a triangle with two equal corners: edges of more than two triangles would come of it.
 * `cap` indexes the rings' points one after the other.
 */
export function isDoubled(trace: Trace, rings: readonly Ring[], cap: Uint32Array): boolean {
  const ids = joinIndices(rings);
  const outline = new PairTable(ids.length);
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i++) numberEdge(outline, ring[i], ring[i + 1 < ring.length ? i + 1 : 0]);
  }
  const inside = new PairTable(8);
  for (let i = 0; i < cap.length; i++) {
    const a = ids[cap[i]];
    const b = ids[cap[i % 3 === 2 ? i - 2 : i + 1]];
    if (a === b) return true;
    if (a < trace.ownCount && b < trace.ownCount && !hasEdge(outline, a, b)) numberEdge(inside, a, b);
  }
  return inside.count > 0 && trace.runs.some((run) => meetsEdge(run, inside));
}

const numberEdge = (edges: PairTable, a: number, b: number): number =>
  edges.number(Math.min(a, b), Math.max(a, b));

const hasEdge = (edges: PairTable, a: number, b: number): boolean =>
  edges.find(Math.min(a, b), Math.max(a, b)) >= 0;

/** True when a triangle that touches the plane has one of the edges. */
function meetsEdge({ triangles, at, sides }: MixedTriangles, edges: PairTable): boolean {
  for (let m = 0; m < at.length; m++) {
    for (let k = 0; k < 3; k++) {
      const l = k === 2 ? 0 : k + 1;
      if (sides[m * 3 + k] !== 0 || sides[m * 3 + l] !== 0) continue;
      if (hasEdge(edges, triangles[at[m] + k], triangles[at[m] + l])) return true;
    }
  }
  return false;
}
