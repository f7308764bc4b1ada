import type { Vec3 } from '../../math/vec3.ts';
import type { Mesh } from '../mesh.ts';
import { findDuplicates } from './duplicates.ts';
import { countEdges, edgeFans } from './edges.ts';
import { newShells, numberShells } from './shells.ts';

/** What keeps a mesh from being the skin of a solid, counted. */
export interface Audit {
  /** Edges with one triangle. */
  openEdges: number;
  /** Edges with three triangles or more. */
  nonManifoldEdges: number;
  /** Edges of exactly two triangles that run through it the same way. */
  windingErrors: number;
  /** Triangles without area: `pointedTriangles.length + flatTriangles`. */
  degenerateTriangles: number;
  /** Indices of triangles with two equal corners. They take no part in edges and shells. */
  pointedTriangles: Uint32Array;
  /** Triangles of zero area with three different corners; they hold their neighbours together. */
  flatTriangles: number;
  /** Triangles that repeat an earlier one's corners in the same turn. */
  duplicateTriangles: number;
  /** Indices of those. */
  duplicates: Uint32Array;
  /** Shells are triangles connected across edges. */
  shellCount: number;
  /** Shell number per triangle, in order of first triangle; `NO_SHELL` for pointed triangles. */
  shellOf: Uint32Array;
  /** Middle of the first edge that is open, non-manifold or mis-wound, in mesh coordinates. */
  firstDefectAt: Vec3 | null;
}

export { NO_SHELL } from './shells.ts';

/** True where every edge is shared by exactly two triangles that run through it opposite ways. */
export const isClosed = (audit: Audit): boolean =>
  audit.openEdges === 0 && audit.nonManifoldEdges === 0 && audit.windingErrors === 0;

/** Counts the faults of an indexed (welded) mesh. */
export function auditMesh(mesh: Mesh): Audit {
  const { pointed, flatCount } = findDegenerate(mesh);
  const fans = edgeFans(mesh);
  const shells = newShells(mesh.triangles.length / 3);
  const edges = countEdges(mesh, fans, shells, null);
  const duplicates = edges.repeated ? findDuplicates(mesh, pointed) : new Uint32Array(0);
  return {
    openEdges: edges.open,
    nonManifoldEdges: edges.nonManifold,
    windingErrors: edges.misWound,
    degenerateTriangles: pointed.length + flatCount,
    pointedTriangles: pointed,
    flatTriangles: flatCount,
    duplicateTriangles: duplicates.length,
    duplicates,
    ...numberShells(shells, pointed),
    firstDefectAt: edges.firstDefectAt,
  };
}

function findDegenerate({ positions: p, triangles: t }: Mesh): { pointed: Uint32Array; flatCount: number } {
  const pointed: number[] = [];
  let flatCount = 0;
  for (let i = 0; i < t.length; i += 3) {
    const ia = t[i];
    const ib = t[i + 1];
    const ic = t[i + 2];
    if (ia === ib || ib === ic || ic === ia) {
      pointed.push(i / 3);
      continue;
    }
    const a = ia * 3;
    const b = ib * 3;
    const c = ic * 3;
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    // Differences and products of singles are exact in doubles, so zero means zero. Most triangles leave here.
    if (ux * vy !== uy * vx) continue;
    const uz = p[b + 2] - p[a + 2];
    const vz = p[c + 2] - p[a + 2];
    if (uy * vz === uz * vy && uz * vx === ux * vz) flatCount++;
  }
  return { pointed: Uint32Array.from(pointed), flatCount };
}
