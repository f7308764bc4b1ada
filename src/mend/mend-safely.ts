import { measureMesh } from '../mesh/measure.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { type Audit, auditMesh } from '../mesh/topology/audit.ts';
import { fillHoles } from './holes/fill-holes.ts';
import { smallHoles } from './holes/small-holes.ts';
import { isSound } from './report/needs-mending.ts';
import { note, type Repair } from './report/repair.ts';
import { faultyShells } from './shells/faulty-shells.ts';
import { joinRims } from './touching/join-rims.ts';
import { pairEdges } from './touching/pair-edges.ts';
import { partCrowdedEdges } from './touching/part-edges.ts';
import { splitVertices } from './touching/split-vertices.ts';
import { markDoubledSkin } from './triangles/doubled-skin.ts';
import { dropTriangles } from './triangles/drop-triangles.ts';
import { MEND_TUNING } from './tuning.ts';
import { turnOutward } from './winding/outward.ts';
import { windCoherently } from './winding/wind.ts';

/** A mesh, and its audit where it has one that still holds. */
interface Audited {
  mesh: Mesh;
  audit: Audit;
}

/**
 * Mends one body in what has only one sensible answer, and records every change. Triangles that are not involved
 * keep their corners to the bit, and their order. In turn: pointed and doubled triangles go, rims that almost meet
 * are joined, a skin laid back to back on itself becomes one, surfaces that touch come apart, neighbours get the
 * same winding, small holes are closed, and shells are turned outward.
 * @param size diagonal of the whole figure's box, mm: what is small is small beside it.
 */
export function mendSafely(mesh: Mesh, audit: Audit, size: number, repairs: Repair[]): Mesh {
  let now: Audited = { mesh, audit };
  if (!isSound(audit)) {
    now = dropFaulty(now, repairs);
    now = joinNearRims(now, size, repairs);
    now = dropDoubledSkin(now, repairs);
    now = rewind(now, repairs);
    now = fillSmallHoles(now, size, repairs);
  }
  const { mesh: outward, turnedCount } = turnOutward(now.mesh, now.audit, faultyShells(now.mesh, now.audit));
  note(repairs, { code: 'turned-outward', count: turnedCount });
  return outward;
}

function dropFaulty({ mesh, audit }: Audited, repairs: Repair[]): Audited {
  const { pointedTriangles, duplicates } = audit;
  note(repairs, { code: 'degenerate-dropped', count: pointedTriangles.length });
  note(repairs, { code: 'duplicates-dropped', count: duplicates.length });
  if (pointedTriangles.length + duplicates.length === 0) return { mesh, audit };
  const drop = new Uint8Array(mesh.triangles.length / 3);
  for (const triangle of pointedTriangles) drop[triangle] = 1;
  for (const triangle of duplicates) drop[triangle] = 1;
  return audited(dropTriangles(mesh, drop));
}

/** Rims are joined only where that leaves fewer open edges: two surfaces that end side by side stay apart. */
function joinNearRims(now: Audited, size: number, repairs: Repair[]): Audited {
  if (now.audit.openEdges === 0) return now;
  const { mesh, joinedCount, deviationMm } = joinRims(now.mesh, MEND_TUNING.rimShare * size, true);
  if (joinedCount === 0) return now;
  const joined = audited(mesh);
  if (joined.audit.openEdges >= now.audit.openEdges) return now;
  const volumeChangeMm3 = volumeOf(mesh) - volumeOf(now.mesh);
  note(repairs, { code: 'rims-joined', count: joinedCount, volumeChangeMm3, deviationMm });
  return dropFaulty(joined, repairs);
}

function dropDoubledSkin(now: Audited, repairs: Repair[]): Audited {
  if (now.audit.nonManifoldEdges === 0) return now;
  const { drop, count } = markDoubledSkin(now.mesh);
  note(repairs, { code: 'doubled-skin-dropped', count });
  return count === 0 ? now : audited(dropTriangles(now.mesh, drop));
}

/** Takes touching surfaces apart and winds each coherently. */
function rewind(now: Audited, repairs: Repair[]): Audited {
  const pairing = pairEdges(now.mesh);
  const { mates, splitCount } = pairing;
  const { mesh: apart, split } = splitVertices(now.mesh, pairing);
  const { mesh, turnedCount } = windCoherently(apart, mates);
  note(repairs, { code: 'edges-split', count: splitCount });
  note(repairs, { code: 'vertices-split', count: split.length });
  note(repairs, { code: 'turned-coherent', count: turnedCount });
  const wound = mesh === now.mesh ? now : audited(mesh);
  if (wound.audit.nonManifoldEdges === 0) return wound;
  const parted = partCrowdedEdges(mesh, mates);
  return parted === mesh ? wound : rewind(audited(parted), repairs);
}

function fillSmallHoles(now: Audited, size: number, repairs: Repair[]): Audited {
  if (now.audit.openEdges === 0) return now;
  const outlines = smallHoles(now.mesh, now.audit, size);
  const { mesh, filledCount, deviationMm, crossings } = fillHoles(now.mesh, outlines, 'flat');
  if (filledCount === 0) return now;
  const volumeChangeMm3 = volumeOf(mesh) - volumeOf(now.mesh);
  note(repairs, { code: 'holes-filled', count: filledCount, volumeChangeMm3, deviationMm, crossings });
  return rewind(audited(mesh), repairs);
}

const audited = (mesh: Mesh): Audited => ({ mesh, audit: auditMesh(mesh) });

export const volumeOf = (mesh: Mesh): number => measureMesh(mesh).volumeMm3;
