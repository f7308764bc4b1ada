import type { Stand } from '../check/bed/stands.ts';
import { fitOnBed } from '../check/bed.ts';
import { canTurn } from '../check/draw-directions.ts';
import { type Finding, finding } from '../check/finding.ts';
import { isOneWay, type StandingJoint } from '../check/one-way.ts';
import { partsMoveMm } from '../handoff/move-parts.ts';
import { jointKind } from '../joint/kinds.ts';
import type { Piece } from '../joint/piece.ts';
import { fromFrame, type PlaneFrame, planeFrame, toFrame } from '../math/plane.ts';
import type { Loop } from '../math/polygon.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import { add, scale, sub, type Vec3 } from '../math/vec3.ts';
import type { Bounds } from '../mesh/measure.ts';
import { partFacts } from '../mesh/part/part-facts.ts';
import { joinedBy } from '../model/contact-seam.ts';
import type { Job } from '../model/job.ts';
import { checkJointOnce } from './check-joint-once.ts';
import { nestResult } from './check-nest.ts';
import { checkPieces } from './check-pieces.ts';
import { touchResult } from './check-touch.ts';
import type { Evaluation, PartResult, SeamResult, VolumeBalance } from './evaluation.ts';
import { faceResult } from './face-outline.ts';
import type { FinishedPart, JointedSeam, JointedTree, MadeJoint } from './joint-step.ts';
import { areOverlapsNested } from './overlaps-nested.ts';
import type { Sculpt } from './sculpt.ts';
import { seamDraw } from './seam-draw.ts';
import { filling, goesIn } from './settled.ts';

/** Measures the finished meshes and says what a person should know. In haste parts are turned less long on the bed, see `fitOnBed`. */
export function checkStep(
  job: Job,
  sculpt: Sculpt,
  tree: JointedTree,
  onProgress: (done: number) => void,
  isHasty = false,
): Omit<Evaluation, 'timingsMs'> {
  const findings = [...tree.findings];
  const parts = tree.parts.map((finished, i) => {
    onProgress(i / (tree.parts.length + 1));
    return measurePart(finished, sculpt, job.process.bedMm, findings, isHasty);
  });
  const seams = tree.seams.map((seam) => checkSeam(seam, tree, sculpt.originMm, job, findings));
  const volume = balance(sculpt, parts, seams);
  const slackMm3 = tree.parts.reduce((sum, part) => sum + part.slackMm3, 0);
  if (Math.abs(volume.residualMm3) > TOLERANCES.residual * volume.sculptMm3 + slackMm3) {
    findings.push(finding('volume-unbalanced', 'error', { residualMm3: volume.residualMm3 }));
  }
  const movedMm = partsMoveMm(
    tree.parts.map(({ part }) => part),
    sculpt.originMm,
  );
  if (movedMm.some((by) => by !== 0)) findings.push(finding('parts-moved', 'warning', { movedMm }));
  const overlapsNested = areOverlapsNested(
    sculpt,
    tree.seams.map(({ cut }) => cut),
  );
  return { parts, seams, volume, movedMm, overlapsNested, findings };
}

function measurePart(
  { plain, part, ofJoint }: FinishedPart,
  { originMm, overlaps }: Sculpt,
  bedMm: Vec3,
  findings: Finding[],
  isHasty: boolean,
): PartResult {
  const { bounds, faultyEdges, ...facts } = partFacts(part);
  const { asItIs, fit } = fitOnBed(part, bounds, bedMm, isHasty);
  const measured: PartResult = {
    id: plain.id,
    name: plain.name,
    ...(ofJoint && { ofJoint }),
    ...facts,
    boundsMm: { min: add(bounds.min, originMm), max: add(bounds.max, originMm) },
    closed: faultyEdges === 0,
    openEdges: faultyEdges,
    // Of shells that overlap a part that is one shell has no more than one.
    overlaps: facts.shells > 1 && overlaps.boxes.some((box) => boxesShare(box, bounds)),
    bed: { ...fit, middleMm: add(fit.middleMm, originMm) },
  };
  checkPart(measured, findings);
  checkBed(measured, asItIs, bedMm, findings);
  return measured;
}

/** True where two boxes have more than a side in common. */
const boxesShare = (a: Bounds, b: Bounds): boolean =>
  a.min.every((low, k) => low < b.max[k] && b.min[k] < a.max[k]);

function checkPart(part: PartResult, findings: Finding[]): void {
  if (!part.closed) {
    findings.push(finding('part-not-closed', 'error', { part: part.name, openEdges: part.openEdges }));
  }
  if (part.overlaps) findings.push(finding('overlap-unproved', 'warning', { part: part.name }));
  // A sheet of thickness t and area A holds t A within a surface of 2 A.
  const thicknessMm = (2 * part.volumeMm3) / part.areaMm2;
  if (thicknessMm < TOLERANCES.noWall) {
    findings.push(finding('part-too-thin', 'error', { part: part.name, thicknessMm }));
  }
}

function checkBed(
  { name, boundsMm, bed }: PartResult,
  asItIs: Stand,
  bedMm: Vec3,
  findings: Finding[],
): void {
  if (bed.fits === 'standing') return;
  const { turn, up, overMm, axis, withinMm } = bed;
  const about = { part: name, sizeMm: sub(boundsMm.max, boundsMm.min), bedMm, turn, up };
  findings.push(
    bed.fits === 'turned'
      ? finding('part-lies-otherwise', 'info', { ...about, overMm: asItIs.overMm, axis: asItIs.axis })
      : finding('part-outgrows-bed', 'warning', { ...about, overMm, axis, withinMm }),
  );
}

function checkSeam(
  { cut, hosts, joints }: JointedSeam,
  tree: JointedTree,
  originMm: Vec3,
  job: Job,
  findings: Finding[],
): SeamResult {
  const { seam } = cut;
  const draw = seamDraw(cut, joints);
  const facets = cut.cut.facets.map((facet, number) => {
    const on = hosts.facets.find((one) => one.facet === number);
    return faceResult(facet, on?.socketed.flatMap(({ room }) => room) ?? [], originMm);
  });
  const areaMm2 = facets.reduce((sum, face) => sum + face.areaMm2, 0);
  // All of them go in along the draw: how they stand to each other is seen against it.
  const { swept } = cut.cut.draw;
  const across = swept ? planeFrame({ normal: draw.axis, offset: 0 }) : cut.cut.facets[0].frame;
  const goingIn = joints.filter(goesIn);
  const oneWay = isOneWay(
    goingIn.map((joint) => standing(joint, cut.cut.facets[joint.facet].frame, across, originMm)),
    (turnDeg) => !swept || canTurn(swept, draw.axis, turnDeg),
  );
  const where = { seamId: seam.id };
  if (draw.isSideways) findings.push(finding('draw-sideways', 'info', {}, where));
  if (draw.locked) findings.push(finding('draw-locked', 'error', draw.locked, where));
  const blockedAt = draw.blocked ? add(draw.blocked.at, originMm) : null;
  if (draw.blocked && blockedAt) {
    const facts = { isJoined: joinedBy(seam.by) !== null, isHooked: draw.blocked.isHooked };
    findings.push(finding('draw-blocked', 'error', facts, { ...where, at: blockedAt }));
  }
  const nest = nestResult(cut, originMm, findings);
  const touch = touchResult(cut, originMm, findings);
  findings.push(...checkPieces(cut, originMm));
  if (seam.joints.length === 0 && areaMm2 > 0)
    findings.push(finding('seam-without-peg', 'warning', {}, where));
  else if (joints.length > 0 && !oneWay && !draw.locked)
    findings.push(finding('seats-more-than-one-way', 'info', { goIn: goingIn.length }, where));
  return {
    id: seam.id,
    way: cut.cut.way,
    facets,
    areaMm2,
    ...(nest && { nest }),
    ...(touch && { touch }),
    joints: joints.map((joint) => checkJointOnce(joint, tree, originMm, job, findings)),
    draw: {
      free: blockedAt === null && !draw.locked,
      axis: seam.pegOn === 'back' ? draw.axis : scale(draw.axis, -1),
      ...(blockedAt && { blockedAt }),
      ...(draw.locked && { locked: draw.locked }),
    },
    oneWay,
  };
}

/** A joint that goes in as it is seen on its face in a frame across its seam's draw. */
function standing(joint: MadeJoint, own: PlaneFrame, across: PlaneFrame, originMm: Vec3): StandingJoint {
  const { settled } = joint;
  const [{ hole, by }] = filling(joint);
  const rimOf = ({ rim }: Piece) => (own === across ? rim : seenIn(across, own, rim));
  return {
    at: toFrame(across, sub(settled.at, originMm)),
    spinDeg: settled.spinDeg ?? 0,
    turnsDeg: jointKind(settled.kind).turnsDeg,
    peg: rimOf(by),
    socket: rimOf(hole.piece),
    sideGapMm: settled.sideGapMm,
  };
}

/** A loop of one frame in another. */
function seenIn(frame: PlaneFrame, own: PlaneFrame, loop: Loop): Loop {
  const seen = new Float64Array(loop.length);
  for (let i = 0; i < loop.length; i += 2)
    seen.set(toFrame(frame, fromFrame(own, [loop[i], loop[i + 1]])), i);
  return seen;
}

function balance(sculpt: Sculpt, parts: readonly PartResult[], seams: readonly SeamResult[]): VolumeBalance {
  const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);
  const joints = seams.flatMap((seam) => seam.joints);
  const partsMm3 = sum(parts.map((part) => part.volumeMm3));
  const pegsMm3 = sum(joints.map(({ addedMm3 }) => addedMm3));
  const socketsMm3 = sum(joints.map(({ takenMm3 }) => takenMm3));
  const trimmedMm3 = sum(seams.map(({ nest, touch }) => (nest?.trimmedMm3 ?? 0) - (touch?.filledMm3 ?? 0)));
  const sculptMm3 = sculpt.volumeMm3;
  return {
    sculptMm3,
    partsMm3,
    pegsMm3,
    socketsMm3,
    trimmedMm3,
    residualMm3: partsMm3 - (sculptMm3 - trimmedMm3 + pegsMm3 - socketsMm3),
  };
}
