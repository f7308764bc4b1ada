import { type Audit, auditMesh, isClosed } from './audit.ts';
import { type Measures, measureMesh } from './measure.ts';
import type { Mesh } from './mesh.ts';
import { weld } from './weld.ts';

export type RepairCode = 'vertices-welded' | 'degenerate-dropped' | 'duplicates-dropped' | 'turned-outward';

/** One kind of change made to a mesh that was read, and how many triangles (or vertices) it touched. */
export interface Repair {
  code: RepairCode;
  count: number;
}

export interface Repaired {
  mesh: Mesh;
  /** Audit of the repaired mesh. */
  audit: Audit;
  /** Measures of the repaired mesh. */
  measures: Measures;
  repairs: Repair[];
}

/**
 * Mends what has only one sensible answer: drops triangles with two equal corners and exact doubles,
 * and turns a closed mesh that is inside out. Every other triangle stays as it is, in order;
 * vertices that no triangle uses any more go.
 */
export function repairMesh(mesh: Mesh, audit: Audit): Repaired {
  const repairs: Repair[] = [];
  const note = (code: RepairCode, count: number) => {
    if (count > 0) repairs.push({ code, count });
  };
  note('degenerate-dropped', audit.pointedTriangles.length);
  note('duplicates-dropped', audit.duplicateTriangles);
  const kept = repairs.length > 0 ? without(mesh, [audit.pointedTriangles, audit.duplicates]) : mesh;
  const keptAudit = kept === mesh ? audit : auditMesh(kept);
  const measures = measureMesh(kept);
  if (!isClosed(keptAudit) || measures.volumeMm3 >= 0) {
    return { mesh: kept, audit: keptAudit, measures, repairs };
  }
  note('turned-outward', kept.triangles.length / 3);
  return {
    mesh: turned(kept),
    audit: keptAudit,
    measures: { ...measures, volumeMm3: -measures.volumeMm3 },
    repairs,
  };
}

function without(mesh: Mesh, dropped: Uint32Array[]): Mesh {
  const drop = new Uint8Array(mesh.triangles.length / 3);
  for (const list of dropped) for (const triangle of list) drop[triangle] = 1;
  const triangles = mesh.triangles.filter((_, corner) => drop[(corner / 3) | 0] === 0);
  return weld({ positions: mesh.positions, triangles }).mesh;
}

/** The same surface seen from its other side. */
function turned(mesh: Mesh): Mesh {
  const triangles = mesh.triangles.slice();
  for (let i = 0; i < triangles.length; i += 3) {
    const second = triangles[i + 1];
    triangles[i + 1] = triangles[i + 2];
    triangles[i + 2] = second;
  }
  return { positions: mesh.positions, triangles };
}
