import { type Finding, finding } from '../check/finding.ts';
import type { Joint } from '../joint/joint.ts';
import { jointsMeet } from '../joint/joints-meet.ts';
import { localJoin } from '../joint/local-join.ts';
import { solidJoin } from '../joint/solid-join.ts';
import type { Kernels } from '../kernel/kernels.ts';
import type { PlaneFrame } from '../math/plane.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { Part } from '../mesh/part/part.ts';
import type { Job, Seam } from '../model/job.ts';
import { findFace } from '../seam/cut.ts';
import type { CutSeam, CutTree, PlainPart } from './cut-step.ts';
import type { Way } from './evaluation.ts';
import { settlePegs } from './settle-pegs.ts';
import type { PlacedJoint, SeamHosts, SettledPeg, SettledSeam } from './settled.ts';

export interface FinishedPart {
  plain: PlainPart;
  part: Part;
  /** How those joints were made that are not local; 'local' where all are. */
  solidWay: Way;
}

export interface JointedPeg extends SettledPeg {
  way: Way;
  /** It or its socket runs into another joint's. */
  meets: boolean;
}

export interface JointedSeam {
  cut: CutSeam;
  hosts: SeamHosts;
  pegs: JointedPeg[];
}

export interface JointedTree {
  parts: FinishedPart[];
  seams: JointedSeam[];
  findings: Finding[];
}

/** Settled pegs kept per seam, for its parts and the side its pegs are on: all of them until a peg or the process changes. */
export type JointCache = Map<
  string,
  {
    key: string;
    pegOn: Seam['pegOn'];
    parts: readonly Part[];
    others: readonly Joint[];
    settled: SettledSeam;
  }
>;

/** Places every seam's pegs and joins them to the plain parts: each finished part = its plain part ∪ pegs − sockets. */
export async function jointStep(
  kernels: Kernels,
  job: Job,
  tree: CutTree,
  originMm: Vec3,
  cache: JointCache,
  onProgress: (done: number) => void,
): Promise<JointedTree> {
  const findings: Finding[] = [];
  const placed: PlacedPeg[] = [];
  const settled = tree.seams.map((cut, i) => {
    onProgress(i / (tree.seams.length + 1));
    const hosts = hostsOf(tree, cut);
    const { pegs, findings: found } = settleCached(
      hosts,
      job,
      originMm,
      placed.flatMap(({ peg }) => jointsOf(peg)),
      cache,
    );
    findings.push(...found);
    placed.push(...pegs.map((peg) => ({ seamId: cut.seam.id, peg })));
    return { cut, hosts, pegs };
  });
  const { near, meeting } = crowdedPegs(placed, findings);
  const seams = settled.map(
    ({ cut, hosts, pegs }): JointedSeam => ({
      cut,
      hosts,
      pegs: pegs.map((peg) => ({ ...peg, way: wayOf(peg, near), meets: meeting.has(peg) })),
    }),
  );
  onProgress(tree.seams.length / (tree.seams.length + 1));
  const parts = await Promise.all(tree.parts.map((plain) => finishPart(kernels, plain, seams)));
  return { parts, seams: seams.map((seam) => withSolidWays(seam, parts)), findings };
}

/** A peg and the seam it is of. */
interface PlacedPeg {
  seamId: string;
  peg: SettledPeg;
}

const jointsOf = ({ pegHost, pegJoint, socketHost, socketJoint }: SettledPeg): PlacedJoint[] => [
  { partId: pegHost.partId, joint: pegJoint },
  { partId: socketHost.partId, joint: socketJoint },
];

const wayOf = (peg: SettledPeg, near: ReadonlySet<SettledPeg>): Way =>
  peg.pegSeating.local && peg.socketSeating.local && !near.has(peg) ? 'local' : 'kernel';

/** A joint that is not local went the costlier of its two parts' ways. */
function withSolidWays(seam: JointedSeam, parts: readonly FinishedPart[]): JointedSeam {
  const wayIn = (id: string) => parts.find(({ plain }) => plain.id === id)?.solidWay;
  const pegs = seam.pegs.map((peg) => {
    if (peg.way === 'local') return peg;
    const ways = [wayIn(peg.pegHost.partId), wayIn(peg.socketHost.partId)];
    return { ...peg, way: ways.includes('kernel') ? ('kernel' as const) : ('collar' as const) };
  });
  return { ...seam, pegs };
}

/** The parts that have some of a seam's face, on the side with the peg and on the other. */
function hostsOf(tree: CutTree, { seam, cut }: CutSeam): SeamHosts {
  const onSide = (side: 'front' | 'back') =>
    tree.parts.flatMap(({ id, part, sides }) => {
      const face = sides.get(seam.id) === side ? findFace(part, seam.id, cut.frame, side) : null;
      return face && face.loops.length > 0 ? [{ partId: id, part, face }] : [];
    });
  const other = seam.pegOn === 'back' ? 'front' : 'back';
  return { seam, frame: cut.frame, pegged: onSide(seam.pegOn), socketed: onSide(other) };
}

function settleCached(
  hosts: SeamHosts,
  job: Job,
  originMm: Vec3,
  placed: readonly PlacedJoint[],
  cache: JointCache,
): SettledSeam {
  const { seam } = hosts;
  if (hosts.pegged.length === 0 || hosts.socketed.length === 0) {
    const severity = seam.pegs.length > 0 ? 'error' : 'warning';
    const facts = { pegs: seam.pegs.length };
    return { pegs: [], findings: [finding('seam-without-face', severity, facts, { seamId: seam.id })] };
  }
  const parts = [...hosts.pegged, ...hosts.socketed].map(({ part }) => part);
  // Only a peg that seeks its place makes way for those of other seams.
  const hosted = [...hosts.pegged, ...hosts.socketed].map(({ partId }) => partId);
  const others = seam.pegs.some(({ at }) => at === 'auto')
    ? placed.filter(({ partId }) => hosted.includes(partId))
    : [];
  const key = JSON.stringify([seam.pegs, job.process]);
  const last = cache.get(seam.id);
  const isSameSeam = last?.pegOn === seam.pegOn && areSame(parts, last.parts);
  if (isSameSeam && last.key === key && areSame(jointsIn(others), last.others)) return last.settled;
  const settled = settlePegs(hosts, job.process, originMm, others, isSameSeam ? last.settled.pegs : []);
  cache.set(seam.id, { key, pegOn: seam.pegOn, parts, others: jointsIn(others), settled });
  return settled;
}

const jointsIn = (placed: readonly PlacedJoint[]): Joint[] => placed.map(({ joint }) => joint);

const areSame = <T>(a: readonly T[], b: readonly T[]): boolean =>
  a.length === b.length && a.every((one, i) => one === b[i]);

/** Pegs too near to others of their seam or in a part that two seams bound to be local; those that meet are reported. */
function crowdedPegs(placed: readonly PlacedPeg[], findings: Finding[]) {
  const near = new Set<SettledPeg>();
  const meeting = new Set<SettledPeg>();
  placed.forEach((b, i) => {
    for (const a of placed.slice(0, i)) {
      if (!doMeet(a, b, TOLERANCES.localMargin)) continue;
      near.add(a.peg).add(b.peg);
      if (!doMeet(a, b, TOLERANCES.noWall)) continue;
      meeting.add(a.peg).add(b.peg);
      const facts = { otherPeg: a.peg.index, ...(a.seamId !== b.seamId && { otherSeam: a.seamId }) };
      const where = { seamId: b.seamId, pegIndex: b.peg.index, at: b.peg.peg.at };
      findings.push(finding('pegs-too-close', 'error', facts, where));
    }
  });
  return { near, meeting };
}

/** True where two are nearer than `apart` (mm). Of one seam it is the sockets that meet first. */
function doMeet(a: PlacedPeg, b: PlacedPeg, apart: number): boolean {
  if (a.seamId === b.seamId) return jointsMeet(a.peg.socketJoint, b.peg.socketJoint, apart);
  return jointsOf(a.peg).some((one) =>
    jointsOf(b.peg).some((other) => one.partId === other.partId && jointsMeet(one.joint, other.joint, apart)),
  );
}

/**
 * Local joints change only the faces as the cut left them, and so come first, all seams'; what is left of a seam goes
 * to the kernel in one batch.
 */
async function finishPart(
  kernels: Kernels,
  plain: PlainPart,
  seams: readonly JointedSeam[],
): Promise<FinishedPart> {
  let { part } = plain;
  const left: { frame: PlaneFrame; side: 'front' | 'back'; joints: Joint[] }[] = [];
  for (const { cut, hosts, pegs } of seams) {
    const side = plain.sides.get(cut.seam.id);
    const host = [...hosts.pegged, ...hosts.socketed].find(({ partId }) => partId === plain.id);
    if (!side || !host) continue;
    const mine = pegs.flatMap((peg) =>
      jointsOf(peg)
        .filter(({ partId }) => partId === plain.id)
        .map(({ joint }) => ({ joint, way: peg.way })),
    );
    const local = mine.filter(({ way }) => way === 'local').map(({ joint }) => joint);
    const joints = mine.filter(({ way }) => way !== 'local').map(({ joint }) => joint);
    part = localJoin(kernels.here, part, cut.seam.id, side, host.face, local);
    if (joints.length > 0) left.push({ frame: hosts.frame, side, joints });
  }
  let solidWay: Way = 'local';
  for (const { frame, side, joints } of left) {
    const joined = await solidJoin(kernels, part, frame, side, joints);
    part = joined.part;
    if (solidWay !== 'kernel') solidWay = joined.way;
  }
  return { plain, part, solidWay };
}
