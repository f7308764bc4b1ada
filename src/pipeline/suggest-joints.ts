import type { Vec3 } from '../math/vec3.ts';
import type { Job } from '../model/job.ts';
import { type AskedJoint, COMMONEST_KIND, FIELDS, lettersOf, type SettledJoint } from '../model/joint.ts';
import { roundTo } from '../model/seam-spec.ts';
import { setJoints } from '../model/set-joints.ts';
import type { JointedSeam } from './joint-step.ts';
import { withMostWall } from './most-wall.ts';
import { alongFace, oneWayMends } from './one-way-mends.ts';
import type { SeatedJoint } from './settled.ts';
import { type Evaluate, triedJob } from './tried-job.ts';

/** Joints that the engine chose for a seam. Lengths mm. */
export interface SuggestedJoints {
  /** Null where fewer than were asked for have room. */
  joints: AskedJoint[] | null;
  /** How many have room, and the least wall that they leave. */
  placed: number;
  wallMm: number;
  /** Their parts go together in one way only. */
  oneWay: boolean;
}

/**
 * So many joints for a seam in place of those it has, all of the kind and the gaps of its first one, each as large as its
 * share of the face allows and then moved to where most wall is left around it; of two or more one is changed as little as
 * has the parts go together in one way only.
 */
export async function suggestJoints(
  evaluate: Evaluate,
  job: Job,
  seamId: string,
  count: number,
  originMm: Vec3,
): Promise<SuggestedJoints> {
  const none: SuggestedJoints = { joints: null, placed: 0, wallMm: 0, oneWay: false };
  const seam = job.seams.find(({ id }) => id === seamId);
  if (!seam) return none;
  const first = seam.joints.at(0);
  const autos = Array.from({ length: count }, (_, i) => likeFirst(first, lettersOf(i + 1)));
  const asked = setJoints(job, seamId, autos);
  const tried = await triedJob(evaluate, asked);
  const made = tried?.tree.seams.find(({ cut }) => cut.seam.id === seamId);
  if (!tried || !made) return none;
  const placed = made.joints.length;
  if (placed < count) return { ...none, placed };
  const others = tried.tree.seams.filter((one) => one !== made).flatMap((one) => one.joints);
  const moved = movedApart(made, others, originMm, job.process.minWallMm);
  const better = setJoints(
    job,
    seamId,
    moved.map(({ settled }) => withSizes(first, settled)),
  );
  const result = (await triedJob(evaluate, better))?.evaluation.seams.find(({ id }) => id === seamId);
  if (!result) return none;
  const suggested = {
    joints: better.seams.find(({ id }) => id === seamId)?.joints ?? [],
    placed,
    wallMm: Math.min(...result.joints.map((joint) => joint.wallMm.min)),
    oneWay: result.oneWay,
  };
  if (result.oneWay || placed === 1) return suggested;
  const [mend] = await oneWayMends(evaluate, better, seamId);
  return mend ? { ...suggested, joints: mend.joints, wallMm: mend.wallMm, oneWay: true } : suggested;
}

/** Each joint of a seam in turn where it has most wall, clear of the others. */
function movedApart(
  { hosts, joints }: JointedSeam,
  others: readonly SeatedJoint[],
  originMm: Vec3,
  apartMm: number,
): SeatedJoint[] {
  const placed: SeatedJoint[] = [...joints];
  placed.forEach((joint, i) => {
    const rest = [...others, ...placed.filter((_, k) => k !== i)].flatMap(({ pieces }) => pieces);
    placed[i] = withMostWall(hosts, joint, rest, originMm, apartMm);
  });
  return placed;
}

/** A joint of the kind and the gaps of another, with the place and the sizes of one that was settled. */
function withSizes(first: AskedJoint | undefined, settled: SettledJoint): AskedJoint {
  const names = [FIELDS.length.name, ...alongFace(settled)];
  const sizes = names.map((name) => [name, roundTo(settled[name], 1e4)] as const);
  return { ...likeFirst(first, settled.id), at: settled.at, ...Object.fromEntries(sizes) };
}

const GAPS = [FIELDS.sideGap.name, FIELDS.endGap.name];

function likeFirst(first: AskedJoint | undefined, id: string): AskedJoint {
  const gaps = GAPS.flatMap((name) => (first?.[name] === undefined ? [] : [[name, first[name]] as const]));
  return { id, kind: first?.kind ?? COMMONEST_KIND, at: 'auto', ...Object.fromEntries(gaps) };
}
