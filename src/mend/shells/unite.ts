import type { Mesh } from '../../mesh/mesh.ts';
import { buildTriangleTree, nearestToPoint } from '../../mesh/near/triangle-tree.ts';
import { auditMesh } from '../../mesh/topology/audit.ts';
import { joinShells, newShells } from '../../mesh/topology/shells.ts';
import { type Body, joinMeshes } from '../bodies.ts';
import { findCrossings } from '../report/self-crossings.ts';
import { withoutUnused } from '../triangles/drop-triangles.ts';
import { faultyShells } from './faulty-shells.ts';
import { relateShells } from './overlaps.ts';
import { type Shell, shellsOf } from './shell-parts.ts';

export interface United {
  bodies: Body[];
  /** Solids that went into another. */
  unitedCount: number;
  /** Farthest a new vertex lies from the surfaces united, mm. */
  deviationMm: number;
}

/** Makes one closed mesh of closed meshes: their union. */
export type UniteMeshes = (solids: readonly Mesh[]) => Mesh;

/**
 * Makes one of shells whose material overlaps, across bodies too: the union stands in the body of its first shell.
 * A solid is a shell with its hollows. Shells that overlap nothing keep their triangles, and open ones are no solids.
 */
export function uniteOverlapping(bodies: readonly Body[], uniteMeshes: UniteMeshes): United {
  const mesh = joinMeshes(bodies.map((body) => body.mesh));
  const audit = auditMesh(mesh);
  const shells = shellsOf(mesh, audit);
  const groups = groupOverlapping(mesh, audit, shells);
  if (groups.length === 0) return { bodies: [...bodies], unitedCount: 0, deviationMm: 0 };
  const bodyOf = bodyOfTriangles(bodies);
  const goes = new Uint8Array(shells.length);
  const unions: { body: number; mesh: Mesh }[] = [];
  let unitedCount = 0;
  let deviationMm = 0;
  for (const solids of groups) {
    for (const solid of solids) for (const shell of solid) goes[shell] = 1;
    const meshes = solids.map((solid) => meshOfShells(mesh, solid, shells));
    const union = uniteMeshes(meshes);
    deviationMm = Math.max(deviationMm, deviationFrom(joinMeshes(meshes), union));
    unions.push({ body: bodyOf[shells[Math.min(...solids.flat())].ids[0]], mesh: union });
    unitedCount += solids.length - 1;
  }
  const kept = bodies.map((body, b) => {
    const own = shells.flatMap((shell, i) => (goes[i] === 0 && bodyOf[shell.ids[0]] === b ? [i] : []));
    const meshes = own.length > 0 ? [meshOfShells(mesh, own, shells)] : [];
    return { name: body.name, meshes: [...meshes, ...unions.filter((u) => u.body === b).map((u) => u.mesh)] };
  });
  const left = kept.filter(({ meshes }) => meshes.length > 0);
  return {
    bodies: left.map(({ name, meshes }) => ({ name, mesh: joinMeshes(meshes) })),
    unitedCount,
    deviationMm,
  };
}

/** Groups of two solids or more that hang together by overlaps; a solid is a list of shells, its hollows last. */
function groupOverlapping(
  mesh: Mesh,
  audit: ReturnType<typeof auditMesh>,
  shells: readonly Shell[],
): number[][][] {
  const isFaulty = faultyShells(mesh, audit);
  const { pairs } = findCrossings(mesh);
  const { hollows, overlaps } = relateShells(shells, isFaulty, audit.shellOf, pairs);
  const solidOf = shells.map((_, i) => i);
  for (const { shell, of } of hollows) solidOf[shell] = of;
  const solids = shells.map((_, i) => [i, ...hollows.filter(({ of }) => of === i).map(({ shell }) => shell)]);
  const groups = newShells(shells.length);
  for (const [a, b] of overlaps) {
    if (isFaulty[a] === 0 && isFaulty[b] === 0) joinShells(groups, solidOf[a], solidOf[b]);
  }
  const byRoot = new Map<number, number[][]>();
  solids.forEach((solid, i) => {
    if (solidOf[i] !== i || isFaulty[i] === 1) return;
    groups[i] = groups[groups[i]];
    const root = groups[i];
    byRoot.set(root, [...(byRoot.get(root) ?? []), solid]);
  });
  return [...byRoot.values()].filter((group) => group.length > 1);
}

/** Which body each triangle of the joined mesh is of. */
function bodyOfTriangles(bodies: readonly Body[]): Uint32Array {
  const sizes = bodies.map((body) => body.mesh.triangles.length / 3);
  const bodyOf = new Uint32Array(sizes.reduce((a, b) => a + b, 0));
  let from = 0;
  sizes.forEach((size, b) => {
    bodyOf.fill(b, from, from + size);
    from += size;
  });
  return bodyOf;
}

/** The triangles of some shells, in their order. */
function meshOfShells(mesh: Mesh, chosen: readonly number[], shells: readonly Shell[]): Mesh {
  const ids = Uint32Array.from(chosen.flatMap((i) => Array.from(shells[i].ids))).sort();
  const triangles = new Uint32Array(ids.length * 3);
  for (let i = 0; i < triangles.length; i++) triangles[i] = mesh.triangles[ids[(i / 3) | 0] * 3 + (i % 3)];
  return withoutUnused(mesh.positions, triangles);
}

/** Greatest distance of a vertex of `after` from the surface of `before`, mm. */
function deviationFrom(before: Mesh, after: Mesh): number {
  const tree = buildTriangleTree(before);
  const p = after.positions;
  let most = 0;
  for (let v = 0; v < p.length; v += 3) {
    const near = nearestToPoint(tree, [p[v], p[v + 1], p[v + 2]], Number.MAX_VALUE);
    most = Math.max(most, near?.distance ?? 0);
  }
  return most;
}
