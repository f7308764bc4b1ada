import type { Mesh } from '../../mesh/mesh.ts';
import type { Audit } from '../../mesh/topology/audit.ts';
import { dropTriangles } from '../triangles/drop-triangles.ts';
import { faultyShells } from './faulty-shells.ts';
import { diagonalOf, type Shell, shellsOf } from './shell-parts.ts';

/** The shells, closed or open, whose box has a diagonal below `belowMm`; never the largest one. */
export function specksOf(shells: readonly Shell[], belowMm: number): Shell[] {
  const sizes = shells.map(({ bounds }) => diagonalOf(bounds));
  const largest = sizes.indexOf(sizes.reduce((a, b) => Math.max(a, b), 0));
  return shells.filter((_, i) => i !== largest && sizes[i] < belowMm);
}

export interface DroppedSpecks {
  mesh: Mesh;
  droppedCount: number;
  /** What closed specks enclosed, taken off. */
  volumeChangeMm3: number;
  /** Size of the largest speck. */
  deviationMm: number;
}

/** Takes the specks away. */
export function dropSpecks(mesh: Mesh, audit: Audit, belowMm: number): DroppedSpecks {
  const shells = shellsOf(mesh, audit);
  const specks = specksOf(shells, belowMm);
  if (specks.length === 0) return { mesh, droppedCount: 0, volumeChangeMm3: 0, deviationMm: 0 };
  const isFaulty = faultyShells(mesh, audit);
  const drop = new Uint8Array(mesh.triangles.length / 3);
  let volumeChangeMm3 = 0;
  let deviationMm = 0;
  for (const speck of specks) {
    for (const id of speck.ids) drop[id] = 1;
    if (isFaulty[shells.indexOf(speck)] === 0) volumeChangeMm3 -= speck.volumeMm3;
    deviationMm = Math.max(deviationMm, diagonalOf(speck.bounds));
  }
  return { mesh: dropTriangles(mesh, drop), droppedCount: specks.length, volumeChangeMm3, deviationMm };
}
