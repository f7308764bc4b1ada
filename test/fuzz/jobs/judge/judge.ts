import type { ManifoldToplevel } from 'manifold-3d';
import { type Own, scoped } from '../../../../src/kernel/scope.ts';
import type { FuzzJob } from '../generate.ts';
import { type Fault, fault } from './fault.ts';
import { gapFaults } from './gaps.ts';
import { type FoundJoint, findJoints } from './joints.ts';
import { looseFaults } from './loose.ts';
import { nestGapFaults } from './nest-gap.ts';
import { type PartFile, readPart } from './part.ts';
import { type PlainPart, plainParts } from './plain-parts.ts';
import type { Report } from './report.ts';
import { differenceFaults, overlapFaults, solidOf } from './solids.ts';
import { areaOf, boxOf, volumeAbout } from './triangle.ts';
import { type Point, plus, times } from './vectors.ts';
import { wallFaults } from './walls.ts';

/** Everything that is wrong with what a job's run wrote, told or not. */
export const judge = (
  kernel: ManifoldToplevel,
  fuzzed: FuzzJob,
  report: Report,
  files: ReadonlyMap<string, Uint8Array>,
): Fault[] => scoped((own) => faultsOf(kernel, own, fuzzed, report, files));

function faultsOf(
  kernel: ManifoldToplevel,
  own: Own,
  { job, stl, scenario }: FuzzJob,
  report: Report,
  files: ReadonlyMap<string, Uint8Array>,
): Fault[] {
  const { min, max } = boxOf(readPart('figure', stl, [0, 0, 0]).places);
  const centre = times(plus(min, max), 0.5);
  const figure = readPart('figure', stl, centre);
  const parts = report.parts.map(({ name, file }) =>
    readPart(name, files.get(file) ?? NO_FILE, plus(centre, report.movedMm)),
  );
  const joints = findJoints(job, report, parts, centre);
  const solids = parts.map((part) => solidOf(kernel, own, part));
  const faults = [
    ...parts.flatMap((part, i) => partFaults(part, report.parts[i])),
    ...parts.flatMap((part, i) =>
      solids[i] || report.parts[i].proved !== true ? [] : [fault('no-solid', [], `${part.name} is no solid`)],
    ),
    ...missingPegs(job, report),
    ...joints.flatMap((joint) => [...gapFaults(joint), ...wallFaults(joint, job.process.minWallMm)]),
    ...overlapFaults(own, job, parts, solids),
    ...looseFaults(figure, parts, joints),
    ...nestGapFaults(job, figure, parts, centre),
  ];
  // A figure that shares space with itself is no union to compare with; its volume still has to add up.
  const plain = scenario === 'odd' ? null : plainParts(kernel, own, job, figure, centre);
  faults.push(...volumeFaults(figure, nestedMm3(job, plain), parts, joints));
  if (!plain) return faults;
  return [
    ...faults,
    ...differenceFaults(kernel, own, job, parts, solids, plain, joints),
    ...shapeFaults(parts, plain, joints),
  ];
}

/** A file that is not there reads as one without triangles. */
const NO_FILE = new Uint8Array(84);

function partFaults(part: PartFile, told: Report['parts'][number]): Fault[] {
  const faults: Fault[] = [];
  if (part.unpaired > 0)
    faults.push(fault('open', [], `${part.name}: ${part.unpaired} edges without their like`));
  if (part.pieces.length !== told.shells)
    faults.push(fault('pieces', [], `${part.name}: ${part.pieces.length} pieces, ${told.shells} reported`));
  const volume = part.pieces.reduce((sum, piece) => sum + piece.volume, 0);
  const slack = 1e-6 * Math.abs(volume) + 1e-3 + part.stepMm * areaOf(part.triangles);
  if (part.triangles.length !== told.triangles || Math.abs(volume - told.volumeMm3) > slack)
    faults.push(fault('report', [], `${part.name}: ${volume} mm³, ${told.volumeMm3} reported`));
  return faults;
}

const missingPegs = (job: FuzzJob['job'], report: Report): Fault[] =>
  job.seams.flatMap(({ id, pegs }) => {
    const got = report.seams.find((seam) => seam.id === id)?.pegs.length ?? 0;
    return got < pegs.length ? [fault('peg-missing', [id], `${got} of ${pegs.length} pegs`)] : [];
  });

/** What bodies that overlap hold once they are nested, and what their gap may take off, mm³; null where none are. */
function nestedMm3(
  job: FuzzJob['job'],
  plain: ReturnType<typeof plainParts>,
): { bodies: number; gap: number } | null {
  if (!plain || !job.seams.some(({ by }) => by.kind === 'contact')) return null;
  const all = [...plain.values()];
  return {
    bodies: all.reduce((sum, { solid }) => sum + solid.volume(), 0),
    gap: all.reduce((sum, { gapMm3 }) => sum + gapMm3, 0),
  };
}

/** Parts = figure + pegs − sockets, all as the files have them; of nested bodies what they hold in place of the figure. */
function volumeFaults(
  figure: PartFile,
  nested: ReturnType<typeof nestedMm3>,
  parts: readonly PartFile[],
  joints: readonly FoundJoint[],
): Fault[] {
  const inside = ({ triangles }: PartFile) => volumeAbout(triangles, [0, 0, 0] as Point);
  const pegs = joints.reduce((sum, { pegTriangles, foot }) => sum + volumeAbout(pegTriangles, foot), 0);
  const sockets = joints.reduce(
    (sum, { socketTriangles, foot }) => sum - volumeAbout(socketTriangles, foot),
    0,
  );
  const made = parts.reduce((sum, part) => sum + inside(part), 0);
  const left = made - ((nested?.bodies ?? inside(figure)) + pegs - sockets);
  const slack =
    1e-5 * Math.abs(inside(figure)) +
    1e-3 +
    parts.reduce((sum, part) => sum + part.stepMm * areaOf(part.triangles), 0);
  const seams = [...new Set(joints.map(({ seamId }) => seamId))];
  const isBalanced = left <= slack && left >= -slack - (nested?.gap ?? 0);
  return isBalanced ? [] : [fault('volume', seams, `${left} mm³ left over`)];
}

/** A sound joint changes neither how many pieces a part has nor how many holes go through it. */
function shapeFaults(
  parts: readonly PartFile[],
  plain: ReadonlyMap<string, PlainPart>,
  joints: readonly FoundJoint[],
): Fault[] {
  const seams = [...new Set(joints.map(({ seamId }) => seamId))];
  return parts.flatMap((part) => {
    const piece = plain.get(part.name);
    if (!piece) return [];
    const euler = 2 - 2 * piece.solid.genus();
    return euler === part.euler
      ? []
      : [fault('pieces', seams, `${part.name}: Euler number ${part.euler}, ${euler} without joints`)];
  });
}
