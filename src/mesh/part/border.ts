import type { Mesh } from '../mesh.ts';
import { countEdges, edgeFans, edgeFar } from '../topology/edges.ts';
import { newShells, numberShells } from '../topology/shells.ts';

/** What a piece of a closed surface offers to the pieces beside it. */
export interface Border {
  /** Open edges, two vertex ids each, directed as their triangles run. */
  edges: Uint32Array;
  /** Shell number per open edge. */
  shellOf: Uint32Array;
  shellCount: number;
  /** Edges within the piece that are non-manifold or mis-wound. */
  faults: number;
}

const NONE = new Uint32Array(0);

/** The open edges of a patch, and which of its shells each bounds. */
export function borderOf(mesh: Mesh): Border {
  const shells = newShells(mesh.triangles.length / 3);
  const edges: number[] = [];
  const triangles: number[] = [];
  const counts = countEdges(mesh, edgeFans(mesh), shells, (who, v) => {
    const far = edgeFar(mesh, who, v);
    if ((who & 1) === 0) edges.push(v, far);
    else edges.push(far, v);
    triangles.push(who >>> 1);
  });
  const { shellCount, shellOf } = numberShells(shells, NONE);
  return {
    edges: Uint32Array.from(edges),
    shellOf: Uint32Array.from(triangles, (t) => shellOf[t]),
    shellCount,
    faults: counts.nonManifold + counts.misWound,
  };
}
