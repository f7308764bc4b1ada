import type { Finding } from '../check/finding.ts';
import { jointKind } from '../joint/kinds.ts';
import { fromFrame, toFrame } from '../math/plane.ts';
import { length, sub, type Vec3 } from '../math/vec3.ts';
import type { Job } from '../model/job.ts';
import {
  type AskedJoint,
  type JointField,
  liesAlongFace,
  type SettledJoint,
  type SizeName,
  type Sizes,
} from '../model/joint.ts';
import { rounded, roundTo } from '../model/seam-spec.ts';
import type { JointResult, SeamResult } from './evaluation.ts';
import { against, type Evaluate, triedJob } from './tried-job.ts';

/** A change of a joint that leaves it clear of all else, and what that comes to. Lengths mm. */
export interface JointMend {
  /** Sizes that change, with what they are now. */
  sizes: readonly { name: SizeName; mm: number; nowMm: number }[];
  /** Where it is moved to, and how far that is; left out where it stays. */
  moved?: { at: Vec3; byMm: number };
  /** The least wall that it leaves. */
  wallMm: number;
}

/** Shares of a size that are tried, the largest that does is offered. */
const SHARES = [0.85, 0.7, 0.55, 0.4];
/**
 * How far it is moved to try, in widths of it, and in how many directions; the nearest that does is offered. Each try makes
 * the joint anew, often by the kernel: a dozen are as many as one waits for.
 */
const STEPS = [0.7, 1.5];
const DIRECTIONS = 6;

/**
 * Ways to bring a joint clear of what is told of it: shorter, elsewhere on its face, or smaller altogether. Each was worked
 * out: nothing is found against the joint then, and nothing more than before against anything else. None where none does.
 */
export async function jointMends(
  evaluate: Evaluate,
  job: Job,
  seamId: string,
  jointId: string,
): Promise<JointMend[]> {
  const before = (await evaluate(job)).evaluation;
  const seam = before.seams.find(({ id }) => id === seamId);
  const now = seam?.joints.find(({ settled }) => settled.id === jointId);
  if (!seam || !now) return [];
  const tries = (patch: Partial<AskedJoint>) =>
    clearResult(evaluate, job, before.findings, { seamId, jointId }, patch);
  const mends: JointMend[] = [];
  for (const candidates of smallerSizes(now.settled)) {
    for (const sizes of candidates) {
      const result = await tries(patchOf(sizes));
      if (result === null) continue;
      mends.push({ sizes, wallMm: result.wallMm.min });
      break;
    }
  }
  for (const at of placesAround(seam, now)) {
    const result = await tries({ at });
    if (result === null) continue;
    const byMm = length(sub(result.settled.at, now.settled.at));
    mends.push({ sizes: [], moved: { at, byMm }, wallMm: result.wallMm.min });
    break;
  }
  return mends;
}

/** Sizes to try, the largest of each list first: shorter ones, and smaller ones altogether. */
function smallerSizes(settled: SettledJoint): JointMend['sizes'][][] {
  const { fields, offered } = jointKind(settled.kind);
  const depths = fields.filter(({ isDepth }) => isDepth);
  const scaled = (some: readonly JointField[], share: number): JointMend['sizes'] =>
    some.map(({ name }) => ({ name, mm: roundTo(settled[name] * share, 10), nowMm: settled[name] }));
  const shorter = depths.length > 0 ? SHARES.map((share) => scaled(depths, share)) : [];
  const along = fields.filter(liesAlongFace);
  const smaller = offered
    ? offeredBelow(settled, offered)
    : SHARES.map((share) => scaled([...depths, ...along], share));
  return [shorter, smaller];
}

/** Of what is to be had in given sizes the next smaller ones, the largest first. */
function offeredBelow(settled: SettledJoint, offered: readonly Sizes[]): JointMend['sizes'][] {
  const asFacts = (sizes: Sizes): JointMend['sizes'] =>
    Object.entries(sizes).map(([name, mm]) => ({
      name: name as SizeName,
      mm,
      nowMm: settled[name as SizeName],
    }));
  return offered
    .map(asFacts)
    .filter(
      (sizes) => sizes.every(({ mm, nowMm }) => mm <= nowMm) && sizes.some(({ mm, nowMm }) => mm < nowMm),
    )
    .slice(-SHARES.length)
    .reverse();
}

const patchOf = (sizes: JointMend['sizes']): Partial<AskedJoint> =>
  Object.fromEntries(sizes.map(({ name, mm }) => [name, mm]));

/** Places on the joint's own facet around where it stands, the nearest first, in the file's coordinates. */
function placesAround({ facets }: SeamResult, { facet, settled }: JointResult): Vec3[] {
  const { frame } = facets[facet];
  const [x, y] = toFrame(frame, settled.at);
  const widths = jointKind(settled.kind)
    .fields.filter(liesAlongFace)
    .map(({ name }) => settled[name]);
  const wide = Math.max(...widths);
  return STEPS.flatMap((step) =>
    Array.from({ length: DIRECTIONS }, (_, k) => {
      const turn = (2 * Math.PI * k) / DIRECTIONS;
      return rounded(fromFrame(frame, [x + step * wide * Math.cos(turn), y + step * wide * Math.sin(turn)]));
    }),
  );
}

/** What becomes of a joint with other sizes or another place; null where something is told against it then, or more of anything else. */
async function clearResult(
  evaluate: Evaluate,
  job: Job,
  before: readonly Finding[],
  { seamId, jointId }: { seamId: string; jointId: string },
  patch: Partial<AskedJoint>,
): Promise<JointResult | null> {
  const tried = await triedJob(evaluate, withJoint(job, seamId, jointId, patch));
  if (tried === null) return null;
  const { evaluation } = tried;
  const told = against(evaluation.findings);
  const isAboutIt = (one: Finding) => one.seamId === seamId && one.jointId === jointId;
  if (told.some(isAboutIt) || told.length >= against(before).length) return null;
  const seam = evaluation.seams.find(({ id }) => id === seamId);
  return seam?.joints.find(({ settled }) => settled.id === jointId) ?? null;
}

const withJoint = (job: Job, seamId: string, jointId: string, patch: Partial<AskedJoint>): Job => ({
  ...job,
  seams: job.seams.map((seam) =>
    seam.id === seamId
      ? {
          ...seam,
          joints: seam.joints.map((joint) => (joint.id === jointId ? { ...joint, ...patch } : joint)),
        }
      : seam,
  ),
});
