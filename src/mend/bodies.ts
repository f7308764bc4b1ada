import type { RawBody } from '../io/raw-mesh.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { gatherNeighbours } from '../mesh/near/gather-neighbours.ts';
import { auditMesh } from '../mesh/topology/audit.ts';
import { type Weld, weld } from '../mesh/topology/weld.ts';
import { withoutUnused } from './triangles/drop-triangles.ts';

/** A body the file declares, with a mesh of its own: bodies share no vertex, so that touching ones stay apart. */
export interface Body {
  name: string;
  mesh: Mesh;
}

/** Takes a mesh apart into its declared bodies; without any it is one nameless body, the mesh itself. */
export function bodiesOf(mesh: Mesh, runs: readonly RawBody[] | undefined): Body[] {
  if (!runs || runs.length < 2) return [{ name: runs?.[0]?.name ?? '', mesh }];
  let from = 0;
  return runs.map(({ name, triangleCount }) => {
    const triangles = mesh.triangles.subarray(from, from + triangleCount * 3);
    from += triangleCount * 3;
    return { name, mesh: withoutUnused(mesh.positions, triangles) };
  });
}

/**
 * Joins equal corners within each body, never across: bodies that touch stay apart. Declared bodies that are open
 * are pieces of a surface that some programs write by material or by brush: those become one body, the last.
 * Triangles that lie scattered are put in order.
 * @param isWelded where the reader has joined them already.
 */
export function weldBodies(
  mesh: Mesh,
  declared: readonly RawBody[] | undefined,
  isWelded = false,
): Weld & { bodies: RawBody[] } {
  const welds = bodiesOf(mesh, declared).map(({ name, mesh: loose }) => ({
    name,
    ...(isWelded ? { mesh: loose, mergedCount: 0 } : weld(loose)),
  }));
  const isOpen = (one: Weld) => auditMesh(one.mesh).openEdges > 0;
  const open = welds.length > 1 ? welds.filter(isOpen) : [];
  if (open.length > 1) {
    const whole = weld(joinMeshes(open.map((one) => one.mesh)));
    welds.splice(0, welds.length, ...welds.filter((one) => !open.includes(one)), {
      name: open[0].name,
      mesh: whole.mesh,
      mergedCount: whole.mergedCount + open.reduce((sum, one) => sum + one.mergedCount, 0),
    });
  }
  return {
    mesh: joinMeshes(welds.map((one) => gatherNeighbours(one.mesh))),
    mergedCount: welds.reduce((sum, one) => sum + one.mergedCount, 0),
    bodies: runsOf(welds),
  };
}

export const runsOf = (bodies: readonly Body[]): RawBody[] =>
  bodies.map(({ name, mesh }) => ({ name, triangleCount: mesh.triangles.length / 3 }));

/** Meshes one after the other, sharing nothing; a single one is itself. */
export function joinMeshes(meshes: readonly Mesh[]): Mesh {
  if (meshes.length === 1) return meshes[0];
  const sum = (sizes: number[]) => sizes.reduce((a, b) => a + b, 0);
  const positions = new Float32Array(sum(meshes.map((mesh) => mesh.positions.length)));
  const triangles = new Uint32Array(sum(meshes.map((mesh) => mesh.triangles.length)));
  let vertexAt = 0;
  let cornerAt = 0;
  for (const mesh of meshes) {
    positions.set(mesh.positions, vertexAt * 3);
    for (let i = 0; i < mesh.triangles.length; i++) triangles[cornerAt++] = mesh.triangles[i] + vertexAt;
    vertexAt += mesh.positions.length / 3;
  }
  return { positions, triangles };
}
