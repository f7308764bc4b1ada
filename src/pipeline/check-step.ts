import { standsOn } from '../check/bed.ts';
import { drawBlockedAt } from '../check/draw.ts';
import { type Finding, finding } from '../check/finding.ts';
import { isOneWay, type StandingJoint } from '../check/one-way.ts';
import { partsMoveMm } from '../handoff/move-parts.ts';
import { jointKind } from '../joint/kinds.ts';
import { toFrame } from '../math/plane.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import { add, scale, sub, type Vec2, type Vec3 } from '../math/vec3.ts';
import type { Bounds } from '../mesh/measure.ts';
import { partFacts } from '../mesh/part/part-facts.ts';
import type { Job } from '../model/job.ts';
import { joinedBy } from '../model/seam-spec.ts';
import type { Cut } from '../seam/cut.ts';
import { checkJoint } from './check-joint.ts';
import { nestResult } from './check-nest.ts';
import { checkPieces } from './check-pieces.ts';
import type { CutSeam } from './cut-step.ts';
import type { Evaluation, PartResult, SeamResult, VolumeBalance } from './evaluation.ts';
import { faceResult } from './face-outline.ts';
import type { FinishedPart, JointedSeam, JointedTree, MadeJoint } from './joint-step.ts';
import type { Sculpt } from './sculpt.ts';
import { added, type SeatedPiece, taken } from './settled.ts';

/** Measures the finished meshes and says what a person should know. */
export function checkStep(
  job: Job,
  sculpt: Sculpt,
  tree: JointedTree,
  onProgress: (done: number) => void,
): Omit<Evaluation, 'timingsMs'> {
  const findings = [...tree.findings];
  const parts = tree.parts.map((finished, i) => {
    onProgress(i / (tree.parts.length + 1));
    return measurePart(finished, sculpt);
  });
  for (const part of parts) checkPart(part, job, findings);
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
  return { parts, seams, volume, movedMm, findings };
}

function measurePart({ plain, part }: FinishedPart, { originMm, overlaps }: Sculpt): PartResult {
  const { bounds, faultyEdges, ...facts } = partFacts(part);
  return {
    id: plain.id,
    name: plain.name,
    ...facts,
    boundsMm: { min: add(bounds.min, originMm), max: add(bounds.max, originMm) },
    closed: faultyEdges === 0,
    openEdges: faultyEdges,
    // Of shells that overlap a part that is one shell has no more than one.
    overlaps: facts.shells > 1 && overlaps.boxes.some((box) => boxesShare(box, bounds)),
  };
}

/** True where two boxes have more than a side in common. */
const boxesShare = (a: Bounds, b: Bounds): boolean =>
  a.min.every((low, k) => low < b.max[k] && b.min[k] < a.max[k]);

function checkPart(part: PartResult, job: Job, findings: Finding[]): void {
  if (!part.closed) {
    findings.push(finding('part-not-closed', 'error', { part: part.name, openEdges: part.openEdges }));
  }
  if (part.overlaps) findings.push(finding('overlap-unproved', 'warning', { part: part.name }));
  // A sheet of thickness t and area A holds t A within a surface of 2 A.
  const thicknessMm = (2 * part.volumeMm3) / part.areaMm2;
  if (thicknessMm < TOLERANCES.noWall) {
    findings.push(finding('part-too-thin', 'error', { part: part.name, thicknessMm }));
  }
  checkBed(part, job.process.bedMm, findings);
}

function checkBed({ name, boundsMm }: PartResult, bedMm: Vec3, findings: Finding[]): void {
  const sizeMm = sub(boundsMm.max, boundsMm.min);
  const { asItIs, best } = standsOn(sizeMm, bedMm);
  if (asItIs.overMm === 0) return;
  const about = { part: name, sizeMm, bedMm };
  findings.push(
    best.overMm === 0
      ? finding('part-lies-otherwise', 'info', { ...about, ...asItIs, up: best.up })
      : finding('part-outgrows-bed', 'warning', { ...about, ...best }),
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
  const { draw } = cut.cut;
  const facets = cut.cut.facets.map((facet, number) => {
    const on = hosts.facets.find((one) => one.facet === number);
    return faceResult(facet, on?.socketed.flatMap(({ room }) => room) ?? [], originMm);
  });
  const areaMm2 = facets.reduce((sum, face) => sum + face.areaMm2, 0);
  // All of them go in along the draw: how they stand to each other is seen against it.
  const [{ frame }] = cut.cut.facets;
  const oneWay = isOneWay(
    joints.map((joint) => standing(joint, toFrame(frame, sub(joint.settled.at, originMm)))),
  );
  const where = { seamId: seam.id };
  const blockedAt = blockedIn(cut, originMm);
  if (blockedAt) {
    const facts = { isJoined: joinedBy(seam.by) !== null };
    findings.push(finding('draw-blocked', 'error', facts, { ...where, at: blockedAt }));
  }
  const nest = nestResult(cut, originMm, findings);
  findings.push(...checkPieces(cut, originMm));
  if (seam.joints.length === 0 && areaMm2 > 0)
    findings.push(finding('seam-without-peg', 'warning', {}, where));
  else if (joints.length > 0 && !oneWay) findings.push(finding('seats-more-than-one-way', 'info', {}, where));
  return {
    id: seam.id,
    way: cut.cut.way,
    facets,
    areaMm2,
    ...(nest && { nest }),
    joints: joints.map((joint) => checkJoint(joint, tree, originMm, job, findings)),
    draw: {
      free: blockedAt === null,
      axis: seam.pegOn === 'back' ? draw.axis : scale(draw.axis, -1),
      ...(blockedAt && { blockedAt }),
    },
    oneWay,
  };
}

/** Kept as long as the cut is. */
const blocked = new WeakMap<Cut, Vec3 | null>();

/**
 * Where a seam's parts are in each other's way along its draw, in the file's coordinates; null where they come straight
 * apart, as joints that stand along the draw do.
 */
function blockedIn({ cut }: CutSeam, originMm: Vec3): Vec3 | null {
  if (cut.draw.isClear) return null;
  const known = blocked.get(cut);
  const at =
    known === undefined ? drawBlockedAt(cut.front, cut.back, cut.facets[0].frame, cut.draw.playMm) : known;
  blocked.set(cut, at);
  return at && add(at, originMm);
}

/** A joint as it stands on its face. */
function standing(joint: MadeJoint, at: Vec2): StandingJoint {
  const { settled } = joint;
  const rimOf = ([first]: readonly SeatedPiece[]) => first?.piece.rim ?? new Float64Array(0);
  return {
    at,
    spinDeg: settled.spinDeg ?? 0,
    turnsDeg: jointKind(settled.kind).turnsDeg,
    peg: rimOf(added(joint)),
    socket: rimOf(taken(joint)),
    sideGapMm: settled.sideGapMm,
  };
}

function balance(sculpt: Sculpt, parts: readonly PartResult[], seams: readonly SeamResult[]): VolumeBalance {
  const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);
  const joints = seams.flatMap((seam) => seam.joints);
  const partsMm3 = sum(parts.map((part) => part.volumeMm3));
  const pegsMm3 = sum(joints.map(({ addedMm3 }) => addedMm3));
  const socketsMm3 = sum(joints.map(({ takenMm3 }) => takenMm3));
  const trimmedMm3 = sum(seams.map(({ nest }) => nest?.trimmedMm3 ?? 0));
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
