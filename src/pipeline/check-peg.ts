import { checkClearance } from '../check/clearance.ts';
import { type Finding, finding, type Whereabouts } from '../check/finding.ts';
import { type Joint, jointVolume } from '../joint/joint.ts';
import { leastWall } from '../joint/wall.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import { add, type Vec3 } from '../math/vec3.ts';
import { type PatchOf, patchMesh, trianglesOf } from '../mesh/part/part.ts';
import type { Job } from '../model/job.ts';
import { measureGap, type Spread } from '../section/gap.ts';
import { crossedSeams } from './crossed-seams.ts';
import type { PegResult } from './evaluation.ts';
import { type FinishedWall, finishedWall } from './finished-wall.ts';
import type { JointedPeg, JointedTree } from './joint-step.ts';

/** Measures one peg and its socket on the finished parts and adds what a person should know of them. */
export function checkPeg(
  jointed: JointedPeg,
  tree: JointedTree,
  originMm: Vec3,
  job: Job,
  findings: Finding[],
): PegResult {
  const { peg, index, way, pegJoint, socketJoint, socketSeating } = jointed;
  const where = { seamId: socketJoint.of.seamId, pegIndex: index, at: peg.at };
  const wall = wallOf(jointed, tree);
  const wallMm = { min: wall.mm, at: add(wall.at, originMm) };
  const standing = checkStanding(jointed, wall, tree, where);
  findings.push(
    ...checkClearance(peg, where),
    ...standing,
    ...checkWall(wall, job.process.minWallMm, { ...where, at: wallMm.at }),
  );
  const gap = gapOf(jointed, tree);
  const isWhole = standing.length === 0 && !jointed.meets;
  findings.push(
    ...checkGap('side', peg.sideGapMm, gap.side, isWhole, where),
    ...checkGap('end', peg.endGapMm, gap.end, isWhole, where),
  );
  const pegMm3 = jointVolume(pegJoint);
  const socketMm3 = jointVolume(socketJoint);
  return {
    index,
    peg,
    way,
    axis: pegJoint.frame.z,
    sideGapMm: gap.side,
    endGapMm: gap.end,
    wallMm,
    glueMm3: socketMm3 - pegMm3,
    pegMm3,
    socketMm3,
    pegOutline: pegJoint.rim,
    socketOutline: socketJoint.rim,
    faceWall: { ...socketSeating.faceWall, ...(!socketSeating.insideFace && { mm: 0 }) },
  };
}

/** Why a joint is not whole in its two parts: through another seam, over the edge of its face, or through the skin. */
function checkStanding(
  jointed: JointedPeg,
  wall: FinishedWall,
  tree: JointedTree,
  where: Whereabouts,
): Finding[] {
  const crossed = crossedSeams(jointed, tree);
  const found = crossed.map(({ seamId, overlapMm3 }) =>
    finding('joint-crosses-seam', 'error', { otherSeam: seamId, overlapMm3 }, where),
  );
  if (crossed.length > 0) {
    // What is off the face or through a face is that seam's doing; the skin may be pierced besides.
    const { part } = jointed.socketHost;
    const skin = trianglesOf(part, ({ kind }) => kind === 'skin');
    const pierced = leastWall(part, [skin], jointed.socketJoint, TOLERANCES.noWall).wall.among !== null;
    return pierced ? [...found, finding('socket-breaks-skin', 'error', {}, where)] : found;
  }
  const { pegSeating, socketSeating } = jointed;
  if (!pegSeating.insideFace || !socketSeating.insideFace)
    return [finding('peg-off-face', 'error', {}, where)];
  if (wall.mm > TOLERANCES.noWall || wall.to?.kind === 'joint') return [];
  return [finding('socket-breaks-skin', 'error', otherSeamOf(wall.to), where)];
}

/** A wall that is there and too thin; one that is not there is told of as what the socket breaks into. */
function checkWall({ mm, to }: FinishedWall, minWallMm: number, where: Whereabouts): Finding[] {
  const isTold = mm <= TOLERANCES.noWall && to?.kind !== 'joint';
  if (isTold || mm >= minWallMm - 1e-6) return [];
  const other = { ...otherSeamOf(to), ...(to?.kind === 'joint' && { otherPeg: to.pegIndex }) };
  return [finding('wall-thin', 'warning', { wallMm: mm, minWallMm, ...other }, where)];
}

const otherSeamOf = (to: PatchOf | null): { otherSeam?: string } =>
  to && 'seamId' in to ? { otherSeam: to.seamId } : {};

function checkGap(
  which: 'side' | 'end',
  askedMm: number,
  measured: Spread | null,
  isWhole: boolean,
  where: Whereabouts,
): Finding[] {
  if (!measured) return [finding('gap-unmeasured', 'error', { which }, where)];
  const { min, max } = measured;
  // Of a joint that is not whole some of the other surface is missing, and only what is too near says anything.
  const worst = !isWhole || askedMm - min > max - askedMm ? min : max;
  const isMet = isWhole ? Math.abs(worst - askedMm) <= TOLERANCES.gap : worst >= askedMm - TOLERANCES.gap;
  return isMet ? [] : [finding('gap-not-met', 'error', { askedMm, measuredMm: worst, which }, where)];
}

function gapOf({ peg, pegJoint, socketJoint }: JointedPeg, tree: JointedTree) {
  const draft = (peg.draftDeg * Math.PI) / 180;
  const cap = Math.max(peg.sideGapMm, peg.endGapMm) * 2 + 1;
  const { foot, z } = pegJoint.frame;
  return measureGap(jointMesh(tree, pegJoint.of), jointMesh(tree, socketJoint.of), foot, z, draft, cap);
}

function wallOf({ socketHost, socketSeating, socketJoint }: JointedPeg, tree: JointedTree): FinishedWall {
  const host = tree.parts.find(({ plain }) => plain.id === socketHost.partId);
  return finishedWall(socketHost.part, socketSeating, host?.part ?? socketHost.part, socketJoint);
}

/** A joint's own triangles on the finished part that carries it, as a small mesh. */
function jointMesh(tree: JointedTree, of: Joint['of']) {
  const same = (o: PatchOf) =>
    o.kind === 'joint' && o.seamId === of.seamId && o.pegIndex === of.pegIndex && o.role === of.role;
  const host = tree.parts.find(({ part }) => part.patches.some((patch) => same(patch.of)));
  return host
    ? patchMesh(host.part, same)
    : { positions: new Float32Array(0), triangles: new Uint32Array(0) };
}
