import type { Mesh } from '../../mesh/mesh.ts';
import { type Audit, isClosed } from '../../mesh/topology/audit.ts';
import { groupEdges } from '../touching/edge-groups.ts';

/** Per shell 1 where it has an edge that is open, of more than two triangles, or mis-wound, else 0. */
export function faultyShells(mesh: Mesh, audit: Audit): Uint8Array {
  const isFaulty = new Uint8Array(audit.shellCount);
  if (isClosed(audit)) return isFaulty;
  const { triangles: t } = mesh;
  const { starts, halves } = groupEdges(mesh);
  for (let g = 0; g + 1 < starts.length; g++) {
    const first = halves[starts[g]];
    const isSound = starts[g + 1] - starts[g] === 2 && t[first] !== t[halves[starts[g] + 1]];
    if (!isSound) isFaulty[audit.shellOf[(first / 3) | 0]] = 1;
  }
  return isFaulty;
}
