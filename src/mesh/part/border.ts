import type { Mesh } from '../mesh.ts';
import { countEdges, edgeFans, edgeFar } from '../topology/edges.ts';
import { newShells, numberShells } from '../topology/shells.ts';

/** The edges of a piece of a closed surface. */
export interface Rim {
  /** Open edges, two vertex ids each, directed as their triangles run. */
  edges: Uint32Array;
  /** Edges within the piece that are non-manifold or mis-wound. */
  faults: number;
}

/** What a piece of a closed surface offers to the pieces beside it. */
export interface Border extends Rim {
  /** Shell number per open edge. */
  shellOf: Uint32Array;
  shellCount: number;
}

const NONE = new Uint32Array(0);

/** The open edges of a patch, and which of its shells each bounds. */
export function borderOf(mesh: Mesh): Border {
  const shells = newShells(mesh.triangles.length / 3);
  const { triangles, ...rim } = rimOver(mesh, shells);
  const { shellCount, shellOf } = numberShells(shells, NONE);
  return { ...rim, shellCount, shellOf: Uint32Array.from(triangles, (t) => shellOf[t]) };
}

/** The open edges alone, in the same order: half the work. */
export function rimOf(mesh: Mesh): Rim {
  const { edges, faults } = rimOver(mesh, null);
  return { edges, faults };
}

/** The open edges with the triangle that each is of, and the triangles of a shell joined where shells are given. */
function rimOver(mesh: Mesh, shells: Uint32Array | null): Rim & { triangles: number[] } {
  const edges: number[] = [];
  const triangles: number[] = [];
  const counts = countEdges(mesh, edgeFans(mesh), shells, (who, v) => {
    const far = edgeFar(mesh, who, v);
    if ((who & 1) === 0) edges.push(v, far);
    else edges.push(far, v);
    triangles.push(who >>> 1);
  });
  return { edges: Uint32Array.from(edges), faults: counts.nonManifold + counts.misWound, triangles };
}
