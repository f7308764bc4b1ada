import type { Audit } from '../mesh/audit.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { dropTriangles } from './drop-triangles.ts';
import { diagonalOf, type Shell, shellsOf } from './shell-parts.ts';

/** The shells, closed or open, whose box has a diagonal below `belowMm`; never the largest one. */
export function specksOf(shells: readonly Shell[], belowMm: number): Shell[] {
  const sizes = shells.map(({ bounds }) => diagonalOf(bounds));
  const largest = sizes.indexOf(sizes.reduce((a, b) => Math.max(a, b), 0));
  return shells.filter((_, i) => i !== largest && sizes[i] < belowMm);
}

/** Takes the specks away. `deviationMm` is the size of the largest. */
export function dropSpecks(
  mesh: Mesh,
  audit: Audit,
  belowMm: number,
): { mesh: Mesh; droppedCount: number; deviationMm: number } {
  const specks = specksOf(shellsOf(mesh, audit), belowMm);
  if (specks.length === 0) return { mesh, droppedCount: 0, deviationMm: 0 };
  const drop = new Uint8Array(mesh.triangles.length / 3);
  let deviationMm = 0;
  for (const { ids, bounds } of specks) {
    for (const id of ids) drop[id] = 1;
    deviationMm = Math.max(deviationMm, diagonalOf(bounds));
  }
  return { mesh: dropTriangles(mesh, drop), droppedCount: specks.length, deviationMm };
}
