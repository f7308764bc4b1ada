import { type Finding, finding } from '../check/finding.ts';
import type { Joint } from '../joint/joint.ts';
import { localJoin } from '../joint/local-join.ts';
import { solidJoin } from '../joint/solid-join.ts';
import type { Kernels } from '../kernel/kernels.ts';
import { windingAt } from '../math/polygon.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { Part } from '../mesh/part.ts';
import { buildTriangleTree, cornersOf, nearestToTriangle } from '../mesh/triangle-tree.ts';
import type { Job, Seam } from '../model/job.ts';
import { findFace } from '../seam/cut.ts';
import type { CutSeam, CutTree, PlainPart } from './cut-step.ts';
import type { Way } from './evaluation.ts';
import { type SeamHosts, type SettledPeg, type SettledSeam, settlePegs } from './settle-pegs.ts';

export interface FinishedPart {
  plain: PlainPart;
  part: Part;
  /** How those joints were made that are not local; 'local' where all are. */
  solidWay: Way;
}

export interface JointedSeam {
  cut: CutSeam;
  hosts: SeamHosts;
  pegs: (SettledPeg & { way: Way })[];
}

export interface JointedTree {
  parts: FinishedPart[];
  seams: JointedSeam[];
  findings: Finding[];
}

/** Settled pegs kept per seam, for its parts and the side its pegs are on: all of them until a peg or the process changes. */
export type JointCache = Map<
  string,
  { key: string; pegOn: Seam['pegOn']; parts: readonly Part[]; settled: SettledSeam }
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
  const seams = tree.seams.map((cut, i): JointedSeam => {
    onProgress(i / (tree.seams.length + 1));
    const hosts = hostsOf(tree, cut);
    const settled = settleCached(hosts, job, originMm, cache);
    findings.push(...settled.findings);
    const crowded = crowdedPegs(settled.pegs, cut.seam.id, findings);
    const pegs = settled.pegs.map((p) => ({ ...p, way: wayOf(p, crowded) }));
    return { cut, hosts, pegs };
  });
  onProgress(tree.seams.length / (tree.seams.length + 1));
  const parts = await Promise.all(tree.parts.map((plain) => finishPart(kernels, plain, seams)));
  return { parts, seams: seams.map((seam) => withSolidWays(seam, parts)), findings };
}

const wayOf = (peg: SettledPeg, crowded: ReadonlySet<number>): Way =>
  peg.pegSeating.local && peg.socketSeating.local && !crowded.has(peg.index) ? 'local' : 'kernel';

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

function settleCached(hosts: SeamHosts, job: Job, originMm: Vec3, cache: JointCache): SettledSeam {
  const { seam } = hosts;
  if (hosts.pegged.length === 0 || hosts.socketed.length === 0) return { pegs: [], findings: [] };
  const parts = [...hosts.pegged, ...hosts.socketed].map(({ part }) => part);
  const key = JSON.stringify([seam.pegs, job.process]);
  const last = cache.get(seam.id);
  const isSameSeam =
    last?.pegOn === seam.pegOn &&
    parts.length === last.parts.length &&
    parts.every((part, i) => part === last.parts[i]);
  if (isSameSeam && last.key === key) return last.settled;
  const settled = settlePegs(hosts, job.process, originMm, isSameSeam ? last.settled.pegs : []);
  cache.set(seam.id, { key, pegOn: seam.pegOn, parts, settled });
  return settled;
}

/** Pegs whose sockets meet: reported, and left to the kernel. */
function crowdedPegs(pegs: readonly SettledPeg[], seamId: string, findings: Finding[]): Set<number> {
  const crowded = new Set<number>();
  pegs.forEach((a, i) => {
    for (const b of pegs.slice(i + 1)) {
      if (!socketsMeet(a.socketJoint, b.socketJoint)) continue;
      crowded.add(a.index).add(b.index);
      const where = { seamId, pegIndex: b.index, at: b.peg.at };
      findings.push(finding('pegs-too-close', 'error', { otherPeg: a.index }, where));
    }
  });
  return crowded;
}

function socketsMeet(a: Joint, b: Joint): boolean {
  // Convex bodies whose surfaces keep apart can still lie one within the other: then so do their rims.
  if (windingAt([a.rim], b.rim[0], b.rim[1]) !== 0 || windingAt([b.rim], a.rim[0], a.rim[1]) !== 0)
    return true;
  const reach = (j: Joint) => Math.hypot(j.peg.widthMm, j.peg.heightMm) / 2 + j.peg.sideGapMm * 2;
  if (Math.hypot(...[0, 1, 2].map((k) => a.frame.foot[k] - b.frame.foot[k])) > reach(a) + reach(b))
    return false;
  const tree = buildTriangleTree(a.surface);
  const corners = new Float64Array(9);
  for (let t = 0; t < b.surface.triangles.length / 3; t++) {
    if (nearestToTriangle(tree, cornersOf(b.surface, t, corners), TOLERANCES.localMargin)) return true;
  }
  return false;
}

/** Local joints change the face; what is left of a seam goes to the kernel in one batch. */
async function finishPart(
  kernels: Kernels,
  plain: PlainPart,
  seams: readonly JointedSeam[],
): Promise<FinishedPart> {
  let { part } = plain;
  let solidWay: Way = 'local';
  for (const { cut, hosts, pegs } of seams) {
    const side = plain.sides.get(cut.seam.id);
    const host = [...hosts.pegged, ...hosts.socketed].find(({ partId }) => partId === plain.id);
    if (!side || !host) continue;
    const mine = jointsIn(plain.id, pegs);
    const local = mine.filter(({ way }) => way === 'local').map(({ joint }) => joint);
    const others = mine.filter(({ way }) => way !== 'local').map(({ joint }) => joint);
    part = localJoin(kernels.here, part, cut.seam.id, side, host.face, local);
    if (others.length === 0) continue;
    const joined = await solidJoin(kernels, part, hosts.frame, side, others);
    part = joined.part;
    if (solidWay !== 'kernel') solidWay = joined.way;
  }
  return { plain, part, solidWay };
}

function jointsIn(partId: string, pegs: JointedSeam['pegs']): { joint: Joint; way: Way }[] {
  return pegs.flatMap(({ pegHost, socketHost, pegJoint, socketJoint, way }) => [
    ...(pegHost.partId === partId ? [{ joint: pegJoint, way }] : []),
    ...(socketHost.partId === partId ? [{ joint: socketJoint, way }] : []),
  ]);
}
