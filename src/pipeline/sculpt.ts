import { type Finding, finding } from '../check/finding.ts';
import { PegwrightError } from '../errors.ts';
import type { ByteSource } from '../io/bytes/source.ts';
import type { FormatId } from '../io/formats.ts';
import type { RawBody } from '../io/raw-mesh.ts';
import { type ReadOptions, readMeshes } from '../io/read-mesh.ts';
import { add, length, sub, type Vec3 } from '../math/vec3.ts';
import { weldBodies } from '../mend/bodies.ts';
import { needsMending } from '../mend/report/needs-mending.ts';
import type { Repair } from '../mend/report/repair.ts';
import type { ShellOverlaps } from '../mend/shells/shell-overlaps.ts';
import { type Bounds, type Measures, measureMesh } from '../mesh/measure.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { blocksOf, boundsOfBlocks } from '../mesh/near/blocks.ts';
import { partOf } from '../mesh/part/part.ts';
import { type Audit, auditMesh, isClosed } from '../mesh/topology/audit.ts';
import type { Mend } from '../model/mend.ts';
import type { Unit } from '../model/units.ts';
import { doubts, surveyShells } from './doubts.ts';
import type { Mended } from './mend-step.ts';

/** Faults of the file as it was read, after welding equal corners and before any repair. */
export interface ReadCounts {
  triangles: number;
  vertices: number;
  shells: number;
  openEdges: number;
  nonManifoldEdges: number;
  windingErrors: number;
  degenerateTriangles: number;
  duplicateTriangles: number;
}

/** An opened figure, ready to be cut. Values are not changed after opening. */
export interface Sculpt {
  /** File name; of several, the first with a mesh. */
  file: string;
  format: FormatId;
  /** Unit that the file's numbers were taken in. */
  unit: Unit;
  /** Unit that the file declares, null where it declares none. */
  declaredUnit: Unit | null;
  /** Welded, mended and recentred; mm. */
  mesh: Mesh;
  /** Add this to the mesh's coordinates for the file's, mm. */
  originMm: Vec3;
  /** Audit of `mesh`. */
  audit: Audit;
  /** The bodies the file declares, as runs of the mesh's triangles; one nameless body where it declares none. */
  bodies: RawBody[];
  read: ReadCounts;
  /** In the file's coordinates. */
  boundsMm: Bounds;
  volumeMm3: number;
  areaMm2: number;
  /** True where `mesh` is closed, rightly wound and encloses a volume. */
  solid: boolean;
  findings: Finding[];
  /** Whether shells of the solid have material in common. */
  overlaps: ShellOverlaps;
  repairs: Repair[];
}

/** A volume below this share of the bounding box diagonal cubed is rounding: the mesh is flat or folded onto itself. */
const LEAST_VOLUME_SHARE = 1e-12;

export interface OpenOptions extends ReadOptions {
  /** Changes of shape to make on opening, in order. */
  mend?: readonly Mend[] | undefined;
  /** Shown the welded mesh (recentred, mm), and what to add for the file's coordinates, before anything is known of its soundness. */
  onPlaces?: ((mesh: Mesh, originMm: Vec3) => void) | undefined;
}

/**
 * Opens a figure from one file or several together: read, recentre, weld, mend what is safe and what was agreed,
 * audit, measure. A mesh that is no sound solid comes back too, with findings that say why.
 * @throws PegwrightError for a file that cannot be read, see `readMeshes`, or where an agreed change fails.
 */
export async function openSculpt(
  source: ByteSource | readonly ByteSource[],
  options: OpenOptions,
): Promise<Sculpt> {
  const { onProgress } = options;
  const sources = Array.isArray(source) ? source : [source];
  const read = await readMeshes(sources, options);
  const {
    file,
    format,
    mesh: asRead,
    isWelded,
    originMm,
    stepMm,
    unit,
    declaredUnit,
    bodies: declared,
  } = read;
  onProgress?.('welding', 0);
  const welded = weldBodies(asRead, declared, isWelded);
  options.onPlaces?.(welded.mesh, originMm);
  onProgress?.('auditing', 0);
  const readAudit = auditMesh(welded.mesh);
  let mended: Mended = { mesh: welded.mesh, audit: readAudit, bodies: welded.bodies, repairs: [] };
  const agreed = options.mend ?? [];
  if (agreed.length > 0 || needsMending(welded.mesh, readAudit)) {
    onProgress?.('mending', 0);
    // Loaded when it is needed: most figures are sound, and opening one of those starts the sooner.
    const { mendFigure } = await import('./mend-step.ts');
    mended = await mendFigure(welded.mesh, welded.bodies, agreed, (done) => onProgress?.('mending', done));
  }
  const { mesh, audit, bodies, repairs } = mended;
  // Loose corners are how STL writes every mesh, so joining them there mends nothing.
  if (format !== 'stl' && welded.mergedCount > 0) {
    repairs.unshift({ code: 'vertices-welded', count: welded.mergedCount });
  }
  // What cutting looks things up in is there from the start; its boxes give the figure's own.
  const local = boundsOfBlocks(blocksOf(partOf(mesh), mesh.triangles));
  const measures = measureMesh(mesh, local);
  const boundsMm = { min: add(local.min, originMm), max: add(local.max, originMm) };
  const hasVolume = enclosesVolume(measures, local);
  const survey = await surveyShells(mesh, audit);
  onProgress?.('auditing', 1);
  return {
    file,
    format,
    unit,
    declaredUnit,
    mesh,
    originMm,
    audit,
    bodies,
    read: readCounts(welded.mesh, readAudit),
    boundsMm,
    volumeMm3: measures.volumeMm3,
    areaMm2: measures.areaMm2,
    solid: isClosed(audit) && hasVolume,
    findings: [
      ...soundness(audit, originMm, hasVolume, repairs, measures),
      ...doubts(survey, audit, local, stepMm, originMm),
    ],
    overlaps: survey.overlaps,
    repairs,
  };
}

/** True where a closed mesh encloses more than rounding does. */
export const enclosesVolume = ({ volumeMm3 }: Measures, { min, max }: Bounds): boolean =>
  volumeMm3 > LEAST_VOLUME_SHARE * length(sub(max, min)) ** 3;

function readCounts(mesh: Mesh, audit: Audit): ReadCounts {
  return {
    triangles: mesh.triangles.length / 3,
    vertices: mesh.positions.length / 3,
    shells: audit.shellCount,
    openEdges: audit.openEdges,
    nonManifoldEdges: audit.nonManifoldEdges,
    windingErrors: audit.windingErrors,
    degenerateTriangles: audit.degenerateTriangles,
    duplicateTriangles: audit.duplicateTriangles,
  };
}

/** What keeps the sculpt from being a solid, as errors; what was mended, as notes. */
function soundness(
  audit: Audit,
  originMm: Vec3,
  hasVolume: boolean,
  repairs: Repair[],
  { volumeMm3 }: Measures,
): Finding[] {
  const at = audit.firstDefectAt === null ? {} : { at: add(audit.firstDefectAt, originMm) };
  const findings: Finding[] = [];
  // Edges of more than two triangles are made separate by mending, always.
  const defect = (code: 'open-edges' | 'winding-errors', count: number) => {
    if (count > 0) findings.push(finding(code, 'error', { count }, at));
  };
  defect('open-edges', audit.openEdges);
  defect('winding-errors', audit.windingErrors);
  if (isClosed(audit) && !hasVolume) findings.push(finding('no-volume', 'error', {}));
  for (const repair of repairs) {
    const { code, count } = repair;
    if (code === 'degenerate-dropped') findings.push(finding('degenerate-triangles', 'info', { count }));
    else if (code === 'duplicates-dropped') findings.push(finding('duplicate-triangles', 'info', { count }));
    else if (code === 'turned-outward')
      findings.push(finding('inside-out', 'info', { volumeMm3: -volumeMm3 }));
    else if (code !== 'vertices-welded') findings.push(finding('mended', 'info', repair));
  }
  return findings;
}

/**
 * Refuses a sculpt that cannot be cut.
 * @throws PegwrightError `mesh-not-closed` or `mesh-no-volume`.
 */
export function requireSolid(sculpt: Sculpt): void {
  const { file, audit } = sculpt;
  if (sculpt.solid) return;
  if (isClosed(audit)) throw new PegwrightError('mesh-no-volume', { file });
  throw new PegwrightError('mesh-not-closed', {
    file,
    openEdges: audit.openEdges,
    nonManifoldEdges: audit.nonManifoldEdges,
    windingErrors: audit.windingErrors,
    at: add(audit.firstDefectAt ?? [0, 0, 0], sculpt.originMm),
  });
}
