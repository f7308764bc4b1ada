import { fitsBed } from '../check/bed.ts';
import { type Finding, finding, type Whereabouts } from '../check/finding.ts';
import { isOneWay } from '../check/one-way.ts';
import { jointVolume } from '../joint/joint.ts';
import { toFrame } from '../math/plane.ts';
import { regionArea, regionPerimeter } from '../math/polygon.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import { add, scale, sub, type Vec3 } from '../math/vec3.ts';
import { type PatchOf, patchMesh } from '../mesh/part.ts';
import { partFacts } from '../mesh/part-facts.ts';
import type { Job } from '../model/job.ts';
import { measureGap, type Spread } from '../section/gap.ts';
import type { PartResult, PegResult, SeamResult, VolumeBalance } from './evaluation.ts';
import type { FinishedPart, JointedSeam, JointedTree } from './joint-step.ts';
import type { Sculpt } from './sculpt.ts';
import type { SettledPeg } from './settle-pegs.ts';

/** Measures the finished meshes and says what a person should know. */
export function checkStep(
  job: Job,
  sculpt: Sculpt,
  tree: JointedTree,
  onProgress: (done: number) => void,
): { parts: PartResult[]; seams: SeamResult[]; volume: VolumeBalance; findings: Finding[] } {
  const findings = [...tree.findings];
  const parts = tree.parts.map((finished, i) => {
    onProgress(i / (tree.parts.length + 1));
    return measurePart(finished, sculpt.originMm);
  });
  for (const part of parts) checkPart(part, job, findings);
  const seams = tree.seams.map((seam) => checkSeam(seam, tree, sculpt.originMm, job, findings));
  const volume = balance(sculpt, parts, seams);
  if (Math.abs(volume.residualMm3) > TOLERANCES.residual * volume.sculptMm3 && isPlain(findings)) {
    findings.push(finding('volume-unbalanced', 'error', { residualMm3: volume.residualMm3 }));
  }
  return { parts, seams, volume, findings };
}

/** The balance holds only while pegs and sockets lie whole in their parts. */
const isPlain = (findings: readonly Finding[]): boolean =>
  !findings.some(
    ({ code }) => code === 'peg-off-face' || code === 'socket-breaks-skin' || code === 'pegs-too-close',
  );

function measurePart({ plain, part }: FinishedPart, originMm: Vec3): PartResult {
  const { bounds, faultyEdges, ...facts } = partFacts(part);
  return {
    id: plain.id,
    name: plain.name,
    ...facts,
    boundsMm: { min: add(bounds.min, originMm), max: add(bounds.max, originMm) },
    closed: faultyEdges === 0,
    openEdges: faultyEdges,
  };
}

function checkPart(part: PartResult, job: Job, findings: Finding[]): void {
  if (!part.closed) {
    findings.push(finding('part-not-closed', 'error', { part: part.name, openEdges: part.openEdges }));
  }
  const sizeMm = sub(part.boundsMm.max, part.boundsMm.min);
  if (!fitsBed(sizeMm, job.process.bedMm)) {
    const facts = { part: part.name, sizeMm, bedMm: job.process.bedMm };
    findings.push(finding('part-outgrows-bed', 'warning', facts));
  }
}

function checkSeam(
  { cut, hosts, pegs }: JointedSeam,
  tree: JointedTree,
  originMm: Vec3,
  job: Job,
  findings: Finding[],
): SeamResult {
  const { seam } = cut;
  const { frame } = hosts;
  const outlines = hosts.socketed.flatMap(({ face }) => face.loops);
  const oneWay = isOneWay(pegs.map(({ peg }) => ({ ...peg, at: toFrame(frame, sub(peg.at, originMm)) })));
  const where = { seamId: seam.id };
  if (seam.pegs.length === 0) findings.push(finding('seam-without-peg', 'warning', {}, where));
  else if (pegs.length > 0 && !oneWay) findings.push(finding('seats-more-than-one-way', 'info', {}, where));
  return {
    id: seam.id,
    way: cut.cut.way,
    frame: { ...frame, origin: add(frame.origin, originMm) },
    outlines,
    areaMm2: regionArea(outlines),
    perimeterMm: regionPerimeter(outlines),
    pegs: pegs.flatMap((peg) => checkPeg(peg, peg.way, seam.id, tree, originMm, job, findings)),
    // All of one side lies in front of the plane and all pegs stand square to it: the parts come straight apart.
    draw: { free: true, axis: seam.pegOn === 'back' ? frame.n : scale(frame.n, -1) },
    oneWay,
  };
}

function checkPeg(
  settled: SettledPeg,
  way: PegResult['way'],
  seamId: string,
  tree: JointedTree,
  originMm: Vec3,
  job: Job,
  findings: Finding[],
): PegResult[] {
  const { peg, index, pegJoint, socketJoint, pegSeating, socketSeating } = settled;
  const where = { seamId, pegIndex: index, at: peg.at };
  const draft = (peg.draftDeg * Math.PI) / 180;
  const cap = Math.max(peg.sideGapMm, peg.endGapMm) * 2 + 1;
  const gap = measureGap(
    jointMesh(tree, pegJoint.of),
    jointMesh(tree, socketJoint.of),
    pegJoint.frame.foot,
    pegJoint.frame.z,
    draft,
    cap,
  );
  const wallMm = { min: socketSeating.wall.mm, at: add(socketSeating.wall.at, originMm) };
  if (!pegSeating.insideFace || !socketSeating.insideFace) {
    findings.push(finding('peg-off-face', 'error', {}, where));
  } else if (wallMm.min === 0) {
    findings.push(finding('socket-breaks-skin', 'error', {}, { ...where, at: wallMm.at }));
  } else if (wallMm.min < job.process.minWallMm - 1e-6) {
    const facts = { wallMm: wallMm.min, minWallMm: job.process.minWallMm };
    findings.push(finding('wall-thin', 'warning', facts, { ...where, at: wallMm.at }));
  }
  if (!gap) return [];
  if (way === 'local') checkGap(peg.sideGapMm, gap.side, 'side', where, findings);
  if (way === 'local') checkGap(peg.endGapMm, gap.end, 'end', where, findings);
  const pegMm3 = jointVolume(pegJoint);
  const socketMm3 = jointVolume(socketJoint);
  return [
    {
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
      faceWall: socketSeating.faceWall,
    },
  ];
}

/** A joint's own triangles on the finished part that carries it, as a small mesh. */
function jointMesh(tree: JointedTree, of: PatchOf & { kind: 'joint' }) {
  const same = (o: PatchOf) =>
    o.kind === 'joint' && o.seamId === of.seamId && o.pegIndex === of.pegIndex && o.role === of.role;
  const host = tree.parts.find(({ part }) => part.patches.some((patch) => same(patch.of)));
  return host
    ? patchMesh(host.part, same)
    : { positions: new Float32Array(0), triangles: new Uint32Array(0) };
}

function checkGap(
  askedMm: number,
  measured: Spread,
  which: 'side' | 'end',
  where: Whereabouts,
  findings: Finding[],
): void {
  const worst = askedMm - measured.min > measured.max - askedMm ? measured.min : measured.max;
  if (Math.abs(worst - askedMm) <= TOLERANCES.gap) return;
  findings.push(finding('gap-not-met', 'error', { askedMm, measuredMm: worst, which }, where));
}

function balance(sculpt: Sculpt, parts: readonly PartResult[], seams: readonly SeamResult[]): VolumeBalance {
  const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);
  const pegs = seams.flatMap((seam) => seam.pegs);
  const partsMm3 = sum(parts.map((part) => part.volumeMm3));
  const pegsMm3 = sum(pegs.map((peg) => peg.pegMm3));
  const socketsMm3 = sum(pegs.map((peg) => peg.socketMm3));
  const sculptMm3 = sculpt.volumeMm3;
  return {
    sculptMm3,
    partsMm3,
    pegsMm3,
    socketsMm3,
    residualMm3: partsMm3 - (sculptMm3 + pegsMm3 - socketsMm3),
  };
}
