import type { RawBody } from '../io/raw-mesh.ts';
import { loadKernel } from '../kernel/load.ts';
import { kernelUnite } from '../kernel/solid.ts';
import { type Body, bodiesOf, joinMeshes, runsOf } from '../mend/bodies.ts';
import { fillHoles } from '../mend/holes/fill-holes.ts';
import { holeOutlines } from '../mend/holes/hole-outlines.ts';
import { mendSafely, volumeOf } from '../mend/mend-safely.ts';
import { note, type Repair } from '../mend/report/repair.ts';
import { dropSpecks } from '../mend/shells/drop-specks.ts';
import { diagonalOf } from '../mend/shells/shell-parts.ts';
import { uniteOverlapping } from '../mend/shells/unite.ts';
import { type ReSkinOptions, reSkin } from '../mend/skin/re-skin.ts';
import { joinRims } from '../mend/touching/join-rims.ts';
import { boundsOf } from '../mesh/measure.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { type Audit, auditMesh } from '../mesh/topology/audit.ts';
import type { Mend } from '../model/mend.ts';

export interface Mended {
  mesh: Mesh;
  audit: Audit;
  /** The bodies the file declared, as they are now: runs of the mesh's triangles. */
  bodies: RawBody[];
  repairs: Repair[];
}

/**
 * Mends a welded figure: what is safe first, then the changes of shape a person agreed to, each followed by what is
 * safe again. Every body is mended by itself, so that bodies that touch stay apart; only uniting joins bodies.
 * @param onProgress told how far a new skin is, 0 to 1; all else is short, or cannot tell.
 * @param declared the file's bodies, as runs of the mesh's triangles that share no vertex.
 * @throws PegwrightError `kernel-refused` or `kernel-lost` where uniting fails.
 */
export async function mendFigure(
  mesh: Mesh,
  declared: readonly RawBody[] | undefined,
  agreed: readonly Mend[],
  onProgress?: (done: number) => void,
): Promise<Mended> {
  const repairs: Repair[] = [];
  const size = diagonalOf(boundsOf(mesh));
  const settle = (bodies: readonly Body[]) => bodies.map((body) => mendBody(body, size, repairs));
  let bodies = settle(bodiesOf(mesh, declared));
  for (const mend of agreed) bodies = settle(await apply(mend, bodies, repairs, onProgress));
  const whole = joinMeshes(bodies.map((body) => body.mesh));
  return { mesh: whole, audit: auditMesh(whole), bodies: runsOf(bodies), repairs };
}

/** The safe steps on one body. */
const mendBody = ({ name, mesh }: Body, size: number, repairs: Repair[]): Body => ({
  name,
  mesh: mendSafely(mesh, auditMesh(mesh), size, repairs),
});

async function apply(
  mend: Mend,
  bodies: readonly Body[],
  repairs: Repair[],
  onProgress?: (done: number) => void,
): Promise<Body[]> {
  if (mend.do === 'unite') return unite(bodies, repairs);
  if (mend.do === 're-skin') return [coat(bodies, { cellMm: mend.cellMm, onProgress }, repairs)];
  return bodies.map(({ name, mesh }) => ({ name, mesh: applyToBody(mend, mesh, repairs) }));
}

/** Unites across bodies. The kernel is loaded for it alone: most figures are opened without. */
async function unite(bodies: readonly Body[], repairs: Repair[]): Promise<Body[]> {
  const kernel = await loadKernel();
  const united = uniteOverlapping(bodies, (solids) => kernelUnite(kernel, solids));
  const sum = (all: readonly Body[]) => all.reduce((volume, body) => volume + volumeOf(body.mesh), 0);
  const { unitedCount: count, deviationMm } = united;
  note(repairs, {
    code: 'shells-united',
    count,
    volumeChangeMm3: sum(united.bodies) - sum(bodies),
    deviationMm,
  });
  return united.bodies;
}

/** One new skin around all bodies. */
function coat(bodies: readonly Body[], options: ReSkinOptions, repairs: Repair[]): Body {
  const whole = joinMeshes(bodies.map((body) => body.mesh));
  const { mesh, deviation, volumeChangeMm3 } = reSkin(whole, options);
  const count = mesh.triangles.length / 3;
  note(repairs, { code: 're-skinned', count, volumeChangeMm3, deviationMm: deviation.maxMm });
  return { name: bodies.length === 1 ? bodies[0].name : '', mesh };
}

function applyToBody(mend: Exclude<Mend, { do: 'unite' | 're-skin' }>, mesh: Mesh, repairs: Repair[]): Mesh {
  switch (mend.do) {
    case 'weld': {
      const { mesh: joined, joinedCount: count, deviationMm } = joinRims(mesh, mend.toleranceMm, false);
      note(repairs, { code: 'rims-joined', count, volumeChangeMm3: change(mesh, joined), deviationMm });
      return joined;
    }
    case 'fill-holes': {
      const { mesh: filled, filledCount, ...facts } = fillHoles(mesh, holeOutlines(mesh), mend.how);
      const volumeChangeMm3 = change(mesh, filled);
      note(repairs, { code: 'holes-filled', count: filledCount, volumeChangeMm3, ...facts });
      return filled;
    }
    case 'drop-specks': {
      const { mesh: kept, droppedCount, ...facts } = dropSpecks(mesh, auditMesh(mesh), mend.belowMm);
      note(repairs, { code: 'specks-dropped', count: droppedCount, ...facts });
      return kept;
    }
  }
}

const change = (before: Mesh, after: Mesh): number => volumeOf(after) - volumeOf(before);
