import { type Finding, finding } from '../check/finding.ts';
import { faceAround } from '../joint/face-around.ts';
import { localJoin } from '../joint/local-join.ts';
import type { Piece } from '../joint/piece.ts';
import { solidJoin } from '../joint/solid-join.ts';
import { commonRegion } from '../kernel/common-region.ts';
import type { Kernels } from '../kernel/kernels.ts';
import type { Kernel } from '../kernel/load.ts';
import type { PlaneFrame } from '../math/plane.ts';
import type { Loop } from '../math/polygon.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import type { Vec3 } from '../math/vec3.ts';
import { type FacetId, facetsOf, isOfFacet, type Part, type Patch } from '../mesh/part/part.ts';
import { nestingOf } from '../model/contact-seam.ts';
import type { Job, Seam } from '../model/job.ts';
import { findFace } from '../seam/cut.ts';
import type { Face } from '../seam/face.ts';
import type { CutSeam, CutTree, PlainPart } from './cut-step.ts';
import type { Way } from './evaluation.ts';
import { loosePart } from './loose-parts.ts';
import { settleJoints } from './settle-joints.ts';
import {
  doMeet,
  type FacetHosts,
  type Host,
  hostsOn,
  type SeamHosts,
  type SeatedJoint,
  type SeatedPiece,
  type SettledSeam,
  taken,
} from './settled.ts';

export interface FinishedPart {
  plain: PlainPart;
  part: Part;
  /** The joint in which it lies loose, where that is where it comes from. */
  ofJoint?: { seamId: string; jointId: string };
  /** How those joints were made that are not local; 'local' where all are. */
  solidWay: Way;
  /** By how much flat faces that were filled again around joints may have changed its volume besides, mm³. */
  slackMm3: number;
}

export interface MadeJoint extends SeatedJoint {
  way: Way;
  /** It runs into another joint. */
  meets: boolean;
}

export interface JointedSeam {
  cut: CutSeam;
  hosts: SeamHosts;
  joints: MadeJoint[];
}

export interface JointedTree {
  parts: FinishedPart[];
  seams: JointedSeam[];
  findings: Finding[];
}

/** Settled joints kept per seam, for its parts and the side its pegs are on: all of them until one or the process changes. */
export type JointCache = Map<
  string,
  {
    key: string;
    pegOn: Seam['pegOn'];
    parts: readonly Part[];
    others: readonly Piece[];
    settled: SettledSeam;
  }
>;

/**
 * Places every seam's joints and makes them: each finished part = its plain part ∪ what is added − what is taken. What lies
 * loose in joints comes after those parts.
 */
export async function jointStep(
  kernels: Kernels,
  job: Job,
  tree: CutTree,
  originMm: Vec3,
  cache: JointCache,
  onProgress: (done: number) => void,
): Promise<JointedTree> {
  const findings: Finding[] = [];
  const seated: JointOfSeam[] = [];
  const settled = tree.seams.map((cut, i) => {
    onProgress(i / (tree.seams.length + 1));
    const hosts = hostsOf(kernels.here, tree, cut);
    const there = seated.flatMap(({ joint }) => joint.pieces);
    const { joints, findings: found } = settleCached(
      hosts,
      (cut.cut.nest ?? cut.cut.touch) !== undefined,
      job,
      originMm,
      there,
      cache,
    );
    findings.push(...found);
    seated.push(...joints.map((joint) => ({ seamId: cut.seam.id, joint })));
    return { cut, hosts, joints };
  });
  const { near, meeting } = crowdedJoints(seated, findings);
  const seams = settled.map(
    ({ cut, hosts, joints }): JointedSeam => ({
      cut,
      hosts,
      joints: joints.map((joint) => ({ ...joint, way: wayOf(joint, near), meets: meeting.has(joint) })),
    }),
  );
  onProgress(tree.seams.length / (tree.seams.length + 1));
  const parts = await Promise.all(tree.parts.map((plain) => finishKnown(kernels, plain, seams)));
  return {
    parts: [...parts, ...seams.flatMap(looseParts)],
    seams: seams.map((seam) => withSolidWays(seam, parts)),
    findings,
  };
}

const looseParts = ({ cut, joints }: JointedSeam): FinishedPart[] =>
  joints.flatMap((joint) => {
    const loose = loosePart(cut.seam.id, joint);
    return loose ? [{ ...loose, solidWay: 'local', slackMm3: 0 }] : [];
  });

/** A joint and the seam it is of. */
interface JointOfSeam {
  seamId: string;
  joint: SeatedJoint;
}

const wayOf = (joint: SeatedJoint, near: ReadonlySet<SeatedJoint>): Way =>
  joint.pieces.every(({ seating }) => seating.local) && !near.has(joint) ? 'local' : 'kernel';

/** A joint that is not local went the costliest of its parts' ways. */
function withSolidWays(seam: JointedSeam, parts: readonly FinishedPart[]): JointedSeam {
  const wayIn = (id: string) => parts.find(({ plain }) => plain.id === id)?.solidWay;
  const joints = seam.joints.map((joint) => {
    if (joint.way === 'local') return joint;
    const ways = joint.pieces.map(({ host }) => wayIn(host.partId));
    return { ...joint, way: ways.includes('kernel') ? ('kernel' as const) : ('collar' as const) };
  });
  return { ...seam, joints };
}

/** Kept as long as the faces are. */
const rooms = new WeakMap<Face, { shared: readonly Loop[]; room: Loop[] }>();

/** What a face has of what the parts on both sides share. */
function roomIn(kernel: Kernel, face: Face, shared: readonly Loop[]): Loop[] {
  const known = rooms.get(face);
  if (known?.shared === shared) return known.room;
  const room = commonRegion(kernel, face.loops, shared);
  rooms.set(face, { shared, room });
  return room;
}

/** The parts that have some of each facet of a seam, on the side with the peg and on the other. */
function hostsOf(kernel: Kernel, tree: CutTree, { seam, cut }: CutSeam): SeamHosts {
  const other = seam.pegOn === 'back' ? 'front' : 'back';
  const facets = cut.facets.map(({ frame, contact, isBent }, facet): FacetHosts => {
    const onSide = (side: 'front' | 'back') =>
      tree.parts.flatMap(({ id, part, sides }): Host[] => {
        const face = sides.get(seam.id) === side ? findFace(part, seam.id, facet, frame, side) : null;
        if (!face || face.loops.length === 0) return [];
        if (!contact) return [{ partId: id, part, face, room: face.loops }];
        const room = roomIn(kernel, face, contact.shared);
        return room.length > 0 ? [{ partId: id, part, face, room, own: contact.planes[side] }] : [];
      });
    return { facet, frame, pegged: onSide(seam.pegOn), socketed: onSide(other), ...(isBent && { isBent }) };
  });
  return {
    seam,
    facets: facets.filter(({ pegged, socketed }) => pegged.length > 0 && socketed.length > 0),
    ...(cut.draw.swept && { swept: cut.draw.swept }),
  };
}

/** Tells of a seam on which no joint can stand: bodies that nest are held by their shape too. */
function withoutFace({ id, by, joints }: Seam, isNest: boolean, isBent: boolean): Finding {
  const facts = { pegs: joints.length };
  const where = { seamId: id };
  if (isNest) {
    const flatMisses = (nestingOf(by)?.flat ?? null) !== null;
    const severity = joints.length > 0 ? 'error' : flatMisses ? 'warning' : 'info';
    return finding('nest-without-flat', severity, { ...facts, flatMisses }, where);
  }
  const severity = joints.length > 0 ? 'error' : 'warning';
  return finding(isBent ? 'seam-all-bent' : 'seam-without-face', severity, facts, where);
}

function settleCached(
  hosts: SeamHosts,
  isNest: boolean,
  job: Job,
  originMm: Vec3,
  there: readonly SeatedPiece[],
  cache: JointCache,
): SettledSeam {
  const { seam } = hosts;
  if (hosts.facets.every(({ isBent }) => isBent))
    return { joints: [], findings: [withoutFace(seam, isNest, hosts.facets.length > 0)] };
  const all = hosts.facets.flatMap(hostsOn);
  const parts = all.map(({ part }) => part);
  // Only a joint that seeks its place makes way for those of other seams.
  const hosted = all.map(({ partId }) => partId);
  const others = seam.joints.some(({ at }) => at === 'auto')
    ? there.filter(({ host }) => hosted.includes(host.partId))
    : [];
  const key = JSON.stringify([seam.joints, job.process]);
  const last = cache.get(seam.id);
  const isSameSeam = last?.pegOn === seam.pegOn && areSame(parts, last.parts);
  if (isSameSeam && last.key === key && areSame(piecesIn(others), last.others)) return last.settled;
  const settled = settleJoints(hosts, job.process, originMm, others, isSameSeam ? last.settled.joints : []);
  cache.set(seam.id, { key, pegOn: seam.pegOn, parts, others: piecesIn(others), settled });
  return settled;
}

const piecesIn = (seated: readonly SeatedPiece[]): Piece[] => seated.map(({ piece }) => piece);

const areSame = <T>(a: readonly T[], b: readonly T[]): boolean =>
  a.length === b.length && a.every((one, i) => one === b[i]);

/** Joints too near to others of their seam or in a part that two seams bound to be local; those that meet are reported. */
function crowdedJoints(seated: readonly JointOfSeam[], findings: Finding[]) {
  const near = new Set<SeatedJoint>();
  const meeting = new Set<SeatedJoint>();
  seated.forEach((b, i) => {
    for (const a of seated.slice(0, i)) {
      if (!areNear(a, b, TOLERANCES.localMargin)) continue;
      near.add(a.joint).add(b.joint);
      if (!areNear(a, b, TOLERANCES.noWall)) continue;
      meeting.add(a.joint).add(b.joint);
      const facts = { otherPeg: a.joint.index, ...(a.seamId !== b.seamId && { otherSeam: a.seamId }) };
      const { index, settled } = b.joint;
      const where = { seamId: b.seamId, jointId: settled.id, pegIndex: index, at: settled.at };
      findings.push(finding('pegs-too-close', 'error', facts, where));
    }
  });
  return { near, meeting };
}

/** True where two are nearer than `apart` (mm). Of one seam it is what they take that meets first. */
function areNear(a: JointOfSeam, b: JointOfSeam, apart: number): boolean {
  const [one, other] =
    a.seamId === b.seamId ? [taken(a.joint), taken(b.joint)] : [a.joint.pieces, b.joint.pieces];
  return doMeet(one, other, apart);
}

/** Joints that change a face of a part and nothing else, and the facet that it is joined by. */
interface LocalJoin {
  facet: FacetId;
  on: FacetHosts;
  side: 'front' | 'back';
  host: Host;
  pieces: Piece[];
}

/** Parts finished last, by the plain part: the same one again while none of what is worked into it has changed. */
const finishedLast = new WeakMap<Part, { of: readonly unknown[]; finished: Omit<FinishedPart, 'plain'> }>();

async function finishKnown(
  kernels: Kernels,
  plain: PlainPart,
  seams: readonly JointedSeam[],
): Promise<FinishedPart> {
  const of = seams.flatMap(({ cut, joints }) => {
    const side = plain.sides.get(cut.seam.id);
    const hasFace = plain.part.patches.some(({ of: patch }) =>
      facetsOf(patch).some(({ seamId }) => seamId === cut.seam.id),
    );
    return side && hasFace
      ? [cut.cut, side, ...joints.flatMap(({ way, facet, pieces }) => piecesOf(plain, pieces, way, facet))]
      : [];
  });
  const known = finishedLast.get(plain.part);
  if (known && areSame(of, known.of)) return { plain, ...known.finished };
  const { part, solidWay, slackMm3 } = await finishPart(kernels, plain, seams);
  finishedLast.set(plain.part, { of, finished: { part, solidWay, slackMm3 } });
  return { plain, part, solidWay, slackMm3 };
}

/** What of a joint is worked into a part, and how. */
const piecesOf = (
  { id }: PlainPart,
  pieces: readonly SeatedPiece[],
  way: Way,
  facet: number,
): (Piece | Way | number)[] =>
  pieces.flatMap(({ host, piece }) => (host.partId === id ? [piece, way, facet] : []));

/**
 * Local joints change only the faces as the cut left them, and so come first, all seams'; what is left of a facet goes
 * to the kernel in one batch.
 */
async function finishPart(
  kernels: Kernels,
  plain: PlainPart,
  seams: readonly JointedSeam[],
): Promise<FinishedPart> {
  let { part } = plain;
  const left: { frame: PlaneFrame; side: 'front' | 'back'; pieces: Piece[] }[] = [];
  /** By the patch they change: on one flat face several seams may have joints. */
  const onFaces = new Map<Patch, LocalJoin>();
  for (const { cut, hosts, joints } of seams) {
    const seamId = cut.seam.id;
    const side = plain.sides.get(seamId);
    for (const on of hosts.facets) {
      const host = hostsOn(on).find(({ partId }) => partId === plain.id);
      const patch = plain.part.patches.find(({ of }) => isOfFacet(of, seamId, on.facet));
      if (!side || !host || !patch) continue;
      const mine = joints
        .filter(({ facet }) => facet === on.facet)
        .flatMap(({ pieces, way }) =>
          pieces.filter((seated) => seated.host.partId === plain.id).map(({ piece }) => ({ piece, way })),
        );
      const join = onFaces.get(patch) ?? { facet: { seamId, facet: on.facet }, on, side, host, pieces: [] };
      onFaces.set(patch, join);
      join.pieces.push(...mine.filter(({ way }) => way === 'local').map(({ piece }) => piece));
      const pieces = mine.filter(({ way }) => way !== 'local').map(({ piece }) => piece);
      if (pieces.length > 0) left.push({ frame: on.frame, side, pieces });
    }
  }
  let slackMm3 = 0;
  for (const [{ triangles }, { facet, on, side, host, pieces }] of onFaces) {
    const open = pieces.filter(({ isHollow }) => !isHollow);
    const around =
      host.own && open.length > 0
        ? faceAround(plain.part, triangles, on.frame, side, host.own, open)
        : { face: host.face, rest: undefined, slackMm3: 0 };
    slackMm3 += around.slackMm3;
    part = localJoin(kernels.here, part, facet, on.frame, side, around.face, pieces, around.rest);
  }
  let solidWay: Way = 'local';
  for (const { frame, side, pieces } of left) {
    const joined = await solidJoin(kernels, part, frame, side, pieces);
    part = joined.part;
    if (solidWay !== 'kernel') solidWay = joined.way;
  }
  return { plain, part, solidWay, slackMm3 };
}
