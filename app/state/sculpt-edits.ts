import {
  compose,
  type Job,
  LIMITS,
  type Mend,
  MM_PER_UNIT,
  movedSeam,
  NO_TURN,
  type Quaternion,
  turnedVec,
  type Unit,
  type Vec3,
} from '../../src/index.ts';

/**
 * Changes of how a job takes its sculpt. Seams, and joints where they were placed, move with the figure, and so does the
 * reach of agreed mending, so that what was decided stays; sizes of pegs and gaps stay as they are, mm.
 */

/** How many times as large as under `before` a figure is under `after`. */
export const ratioOf = (before: Job['sculpt'], after: Job['sculpt'], declared: Unit): number =>
  (MM_PER_UNIT[after.unit ?? declared] * after.scale) / (MM_PER_UNIT[before.unit ?? declared] * before.scale);

/** @param declared unit of a job that leaves it to the file. */
export const setUnit = (job: Job, unit: Unit, declared: Unit): Job =>
  resized(job, { ...job.sculpt, unit }, declared);

/** The scale is kept within its limits, to nine figures, which jobs stay readable with. */
export function setScale(job: Job, scale: number, declared: Unit): Job {
  const [least, most] = LIMITS.scale;
  const kept = Number(Math.min(most, Math.max(least, scale)).toPrecision(9));
  return resized(job, { ...job.sculpt, scale: kept }, declared);
}

function resized(job: Job, sculpt: Job['sculpt'], declared: Unit): Job {
  const ratio = ratioOf(job.sculpt, sculpt, declared);
  const moved = movedSeams(
    job,
    (normal) => normal,
    (p) => [p[0] * ratio, p[1] * ratio, p[2] * ratio],
    ratio,
  );
  const mend = sculpt.mend?.map((step) => reaching(step, ratio));
  return { ...moved, sculpt: { ...sculpt, ...(mend && { mend }) } };
}

/** A mending step for a figure that many times as large. */
function reaching(step: Mend, ratio: number): Mend {
  switch (step.do) {
    case 'weld':
      return { ...step, toleranceMm: within(LIMITS.mendWeldMm, step.toleranceMm * ratio) };
    case 'drop-specks':
      return { ...step, belowMm: within(LIMITS.mendSpeckMm, step.belowMm * ratio) };
    case 're-skin':
      return { ...step, cellMm: within(LIMITS.reSkinCellMm, step.cellMm * ratio) };
    default:
      return step;
  }
}

const within = ([low, high]: readonly [number, number], value: number) =>
  Math.min(high, Math.max(low, Number(value.toPrecision(9))));

/** Turns the figure, as it stands now, about the file's origin. A figure turned back has no turn. */
export function turnFigure(job: Job, by: Quaternion): Job {
  const { turn: before, ...rest } = job.sculpt;
  const turn = tidied(compose(before ?? NO_TURN, by));
  const isNone = turn.slice(0, 3).every((c) => c === 0);
  const turnTidily = (p: Vec3) => tidied(turnedVec(p, by));
  const moved = movedSeams(job, turnTidily, turnTidily, 1);
  return { ...moved, sculpt: isNone ? rest : { ...rest, turn } };
}

/** Numbers without the noise of sines, never a negative zero, which would not survive a saved file. */
const tidied = <T extends readonly number[]>(numbers: T): T =>
  numbers.map((n) => Math.round(n * 1e12) / 1e12 + 0) as unknown as T;

function movedSeams(job: Job, turn: (normal: Vec3) => Vec3, place: (p: Vec3) => Vec3, ratio: number): Job {
  const seams = job.seams.map((seam) => ({
    ...seam,
    by: movedSeam(seam.by, { turn, place, scale: ratio }),
    joints: seam.joints.map((joint) => (joint.at === 'auto' ? joint : { ...joint, at: place(joint.at) })),
  }));
  return { ...job, seams };
}

/** Agrees to one more change of shape. */
export const addMend = (job: Job, mend: Mend): Job => withMends(job, [...(job.sculpt.mend ?? []), mend]);

/** Takes an agreed change of shape back; those after it stay. */
export const removeMend = (job: Job, index: number): Job =>
  withMends(
    job,
    (job.sculpt.mend ?? []).filter((_, i) => i !== index),
  );

function withMends(job: Job, mend: Mend[]): Job {
  const { mend: _, ...rest } = job.sculpt;
  return { ...job, sculpt: mend.length > 0 ? { ...rest, mend } : rest };
}
