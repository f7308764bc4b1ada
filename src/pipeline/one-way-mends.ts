import { jointKind } from '../joint/kinds.ts';
import type { Job } from '../model/job.ts';
import {
  type AskedJoint,
  FIELDS,
  freeJointId,
  liesAlongFace,
  type SettledJoint,
  type SizeName,
} from '../model/joint.ts';
import { roundTo } from '../model/seam-spec.ts';
import { setJoints } from '../model/set-joints.ts';
import type { SeamResult } from './evaluation.ts';
import { against, type Evaluate, triedJob } from './tried-job.ts';

/** Joints with which a seam's parts go together in one way only, and what was changed for it. */
export interface OneWayMend {
  /** All that the seam is then asked to have. */
  joints: AskedJoint[];
  /** The joint that is changed, or comes in addition. */
  jointId: string;
  isAdded: boolean;
  /** Sizes of it that change, with what they are now; of one that is added, those that it is given. Millimetres or degrees. */
  changes: readonly { name: SizeName; to: number; now?: number }[];
  /** The least wall that any joint of the seam then has, mm. */
  wallMm: number;
}

/** A change to try. */
type Try = Omit<OneWayMend, 'wallMm'>;

/** Turns that are tried, degrees: the least that does is offered. */
const SPINS = [15, 30, 45];
/** Shares of its sizes along the face that a joint is tried with, the largest that does is offered. */
const SHARES = [0.85, 0.7, 0.55];
/** The same for a joint in addition to one that stands alone. */
const SECOND_SHARES = [0.7, 0.5, 0.35];

/**
 * Ways to have a seam's parts go together in one way only that change the least: one joint spun, one made smaller, or to one
 * that stands alone a smaller one added. One of each at most, in that order, and none where nothing does. Each was worked
 * out: parts then go in one way, and nothing more is told against the job than before.
 */
export async function oneWayMends(evaluate: Evaluate, job: Job, seamId: string): Promise<OneWayMend[]> {
  const now = (await triedJob(evaluate, job))?.evaluation;
  const result = now?.seams.find(({ id }) => id === seamId);
  const seam = job.seams.find(({ id }) => id === seamId);
  if (!now || !result || !seam || result.oneWay || result.joints.length === 0) return [];
  const told = against(now.findings).length;
  const mends: OneWayMend[] = [];
  for (const tries of [spun(seam.joints, result), resized(seam.joints, result), added(seam.joints, result)]) {
    for (const one of tries) {
      const tried = (await triedJob(evaluate, setJoints(job, seamId, one.joints)))?.evaluation;
      const after = tried?.seams.find(({ id }) => id === seamId);
      if (!tried || !after?.oneWay || against(tried.findings).length > told) continue;
      if (after.joints.length < result.joints.length + (one.isAdded ? 1 : 0)) continue;
      mends.push({ ...one, wallMm: Math.min(...after.joints.map(({ wallMm }) => wallMm.min)) });
      break;
    }
  }
  return mends;
}

const spun = (asked: readonly AskedJoint[], { joints }: SeamResult): Try[] =>
  joints.length < 2
    ? []
    : SPINS.flatMap((by) =>
        fromSmallest(joints).flatMap((settled) => {
          const canSpin = jointKind(settled.kind).fields.some(({ name }) => name === FIELDS.spin.name);
          const now = settled[FIELDS.spin.name];
          return canSpin
            ? changed(asked, settled, [{ name: FIELDS.spin.name, to: (now + by) % 360, now }])
            : [];
        }),
      );

const resized = (asked: readonly AskedJoint[], { joints }: SeamResult): Try[] =>
  joints.length < 2
    ? []
    : SHARES.flatMap((share) =>
        fromSmallest(joints).flatMap((settled) => changed(asked, settled, smaller(settled, share))),
      );

/** A second joint of the kind of the one that is there, wherever it has most room. */
const added = (asked: readonly AskedJoint[], { joints }: SeamResult): Try[] =>
  joints.length !== 1
    ? []
    : SECOND_SHARES.map((share) => {
        const [{ settled }] = joints;
        const id = freeJointId(asked.map((one) => one.id));
        const changes = smaller(settled, share);
        // The one that is there stays as it is, where an automatic one would make room.
        const stays = asked.map((one) => (one.id === settled.id ? fixed(one, settled) : one));
        const second = patched({ id, kind: settled.kind, at: 'auto' }, changes);
        const given = changes.map(({ name, to }) => ({ name, to }));
        return { joints: [...stays, second], jointId: id, isAdded: true, changes: given };
      });

/** Those that take the least of the face first. */
const fromSmallest = (joints: SeamResult['joints']): SettledJoint[] =>
  joints.map(({ settled }) => settled).sort((a, b) => areaAlong(a) - areaAlong(b));

/** Names of the sizes that lie along the face. */
export const alongFace = ({ kind }: SettledJoint): SizeName[] =>
  jointKind(kind)
    .fields.filter(liesAlongFace)
    .map(({ name }) => name);

const areaAlong = (settled: SettledJoint): number => {
  const sizes = alongFace(settled).map((name) => settled[name]);
  return Math.min(...sizes) * Math.max(...sizes);
};

const smaller = (settled: SettledJoint, share: number) =>
  alongFace(settled).map((name) => ({ name, to: roundTo(settled[name] * share, 10), now: settled[name] }));

/** None for a joint that nobody asked for by itself. */
function changed(asked: readonly AskedJoint[], { id }: SettledJoint, changes: Try['changes']): Try[] {
  if (!asked.some((one) => one.id === id)) return [];
  const joints = asked.map((one) => (one.id === id ? patched(one, changes) : one));
  return [{ joints, jointId: id, isAdded: false, changes }];
}

const patched = (joint: AskedJoint, changes: Try['changes']): AskedJoint => ({
  ...joint,
  ...Object.fromEntries(changes.map(({ name, to }) => [name, to])),
});

/** A joint at the place and of the sizes along the face that it was given. */
const fixed = (joint: AskedJoint, settled: SettledJoint): AskedJoint => ({
  ...joint,
  ...Object.fromEntries(alongFace(settled).map((name) => [name, settled[name]])),
  at: settled.at,
});
