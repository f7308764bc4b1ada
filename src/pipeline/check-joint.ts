import { checkClearance } from '../check/clearance.ts';
import { type Finding, finding, type Whereabouts } from '../check/finding.ts';
import type { Caution } from '../joint/kind.ts';
import { jointKind } from '../joint/kinds.ts';
import { isConcaveCore } from '../joint/parallel-body.ts';
import { type Piece, pieceVolume } from '../joint/piece.ts';
import { leastWall } from '../joint/wall.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import { add, scale, type Vec3 } from '../math/vec3.ts';
import { type PatchOf, patchMesh, trianglesOf } from '../mesh/part/part.ts';
import type { Job } from '../model/job.ts';
import type { SettledJoint } from '../model/joint.ts';
import { type Fit, measureGap, type Spread } from '../section/gap.ts';
import { crossedSeams } from './crossed-seams.ts';
import type { JointResult } from './evaluation.ts';
import { type FinishedWall, finishedWall } from './finished-wall.ts';
import type { JointedTree, MadeJoint } from './joint-step.ts';
import { filling, goesIn, type SeatedPiece, taken } from './settled.ts';

/** Measures one joint on the finished parts and adds what a person should know of it. */
export function checkJoint(
  joint: MadeJoint,
  tree: JointedTree,
  originMm: Vec3,
  job: Job,
  findings: Finding[],
): JointResult {
  const { settled, index, facet, way, pieces } = joint;
  const { seamId } = pieces[0].piece.of;
  const where = { seamId, jointId: settled.id, pegIndex: index, at: settled.at };
  const wall = wallOf(joint, tree);
  const wallMm = { min: wall.mm, at: add(wall.at, originMm) };
  const standing = checkStanding(joint, wall, tree, where);
  findings.push(
    ...checkClearance(settled, where),
    ...standing,
    ...checkWall(wall, tree, job.process.minWallMm, { ...where, at: wallMm.at }),
  );
  const gap = gapOf(joint, tree);
  const isWhole = standing.length === 0 && !joint.meets;
  findings.push(
    ...checkGap('side', settled.sideGapMm, gap.side, isWhole, where),
    ...checkGap('end', settled.endGapMm, gap.end, isWhole, where),
  );
  findings.push(...cautionsOf(settled, where));
  const takenMm3 = volumeOf(taken(joint).map(({ piece }) => piece));
  const filledMm3 = volumeOf(filling(joint).map(({ by }) => by));
  return {
    index,
    settled,
    facet,
    way,
    axis: pieces[0].piece.frame.z,
    sideGapMm: gap.side,
    endGapMm: gap.end,
    wallMm,
    glueMm3: takenMm3 - filledMm3,
    addedMm3: goesIn(joint) ? filledMm3 : 0,
    takenMm3,
    outlines: outlinesOf(joint),
    faceWall: taken(joint)
      .map(({ seating }) => ({ ...seating.faceWall, ...(!seating.insideFace && { mm: 0 }) }))
      .reduce((a, b) => (b.mm < a.mm ? b : a)),
    ...polesIn(joint, tree),
  };
}

const volumeOf = (pieces: readonly Piece[]): number =>
  pieces.reduce((sum, piece) => sum + pieceVolume(piece), 0);

const cautionsOf = (settled: SettledJoint, where: Whereabouts): Finding[] =>
  (jointKind(settled.kind).cautions?.(settled) ?? []).map(({ code, facts }) =>
    finding<Caution['code']>(code, 'info', facts, where),
  );

/** Of all its pieces, and of what lies loose in it, once. */
function outlinesOf({ pieces }: MadeJoint): JointResult['outlines'] {
  const loose = pieces.flatMap(({ holds }) => holds ?? []).slice(0, 1);
  return [...pieces.map(({ piece }) => piece), ...loose].map(({ of, rim }) => ({
    does: of.does,
    outline: rim,
  }));
}

/** Which way round magnets lie in it, part by part. */
function polesIn({ settled, pieces }: MadeJoint, tree: JointedTree): Pick<JointResult, 'poles'> {
  const { poles } = jointKind(settled.kind);
  if (!poles) return {};
  const nameOf = (id: string) => tree.parts.find(({ plain }) => plain.id === id)?.plain.name ?? id;
  return { poles: pieces.map(({ in: side, host }) => ({ part: nameOf(host.partId), facing: poles[side] })) };
}

/** Why a joint is not whole in its parts: through another seam, over the edge of its face, or through the skin. */
function checkStanding(
  joint: MadeJoint,
  wall: FinishedWall,
  tree: JointedTree,
  where: Whereabouts,
): Finding[] {
  const crossed = crossedSeams(joint, tree);
  const found = crossed.map(({ seamId, overlapMm3 }) =>
    finding('joint-crosses-seam', 'error', { otherSeam: seamId, overlapMm3 }, where),
  );
  if (crossed.length > 0) {
    // What is off the face or through a face is that seam's doing; the skin may be pierced besides.
    return taken(joint).some(piercesSkin)
      ? [...found, finding('socket-breaks-skin', 'error', {}, where)]
      : found;
  }
  if (!joint.pieces.every(({ seating }) => seating.insideFace))
    return [finding('peg-off-face', 'error', {}, where)];
  if (wall.mm > TOLERANCES.noWall || wall.to?.kind === 'joint') return [];
  return [finding('socket-breaks-skin', 'error', otherSeamOf(wall.to), where)];
}

function piercesSkin({ piece, host: { part } }: SeatedPiece): boolean {
  const skin = trianglesOf(part, ({ kind }) => kind === 'skin');
  return leastWall(part, [skin], piece, TOLERANCES.noWall).wall.among !== null;
}

/** A wall that is there and too thin; one that is not there is told of as what the socket breaks into. */
function checkWall(
  { mm, to }: FinishedWall,
  tree: JointedTree,
  minWallMm: number,
  where: Whereabouts,
): Finding[] {
  const isTold = mm <= TOLERANCES.noWall && to?.kind !== 'joint';
  if (isTold || mm >= minWallMm - 1e-6) return [];
  const other = { ...otherSeamOf(to), ...(to?.kind === 'joint' && { otherPeg: indexOf(to, tree) }) };
  return [finding('wall-thin', 'warning', { wallMm: mm, minWallMm, ...other }, where)];
}

const otherSeamOf = (to: PatchOf | null): { otherSeam?: string } =>
  to && 'seamId' in to ? { otherSeam: to.seamId } : {};

/** The place of a joint among those of its seam. */
function indexOf({ seamId, jointId }: Piece['of'], tree: JointedTree): number {
  const seam = tree.seams.find(({ cut }) => cut.seam.id === seamId);
  return seam?.joints.find(({ settled }) => settled.id === jointId)?.index ?? 0;
}

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

/** Between what goes into what a joint takes and that, as the finished parts have them. */
function gapOf(joint: MadeJoint, tree: JointedTree) {
  const { settled, hasLoosePart } = joint;
  const cap = Math.max(settled.sideGapMm, settled.endGapMm) * 2 + 1;
  const fits = filling(joint).map(({ hole, by }): Fit => {
    const { foot, z } = hole.piece.frame;
    const { isHollow, body } = hole.piece;
    return {
      // What is no part of any kind is as it should be.
      peg: hole.holds && !hasLoosePart ? by.surface : patchOn(tree, by.of, null),
      socket: patchOn(tree, hole.piece.of, hole.host.partId),
      foot: isHollow ? add(foot, scale(z, body.bottom)) : foot,
      axis: z,
      draft: by.body.draft,
      isConcave: isConcaveCore(by.body.core),
    };
  });
  return measureGap(fits, cap);
}

function wallOf(joint: MadeJoint, tree: JointedTree): FinishedWall {
  const walls = taken(joint).map(({ piece, host, seating }) => {
    const finished = tree.parts.find(({ plain }) => plain.id === host.partId);
    return finishedWall(host.part, seating, finished?.part ?? host.part, piece);
  });
  return walls.reduce((a, b) => (b.mm < a.mm ? b : a));
}

/** A joint's own triangles on the finished part that has them, or on one of them, as a small mesh. */
function patchOn(tree: JointedTree, of: Piece['of'], partId: string | null) {
  const same = (o: PatchOf) =>
    o.kind === 'joint' && o.seamId === of.seamId && o.jointId === of.jointId && o.does === of.does;
  const host = tree.parts.find(
    ({ plain, part }) =>
      (partId === null || plain.id === partId) && part.patches.some((patch) => same(patch.of)),
  );
  return host
    ? patchMesh(host.part, same)
    : { positions: new Float32Array(0), triangles: new Uint32Array(0) };
}
