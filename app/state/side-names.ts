import {
  bareName,
  bodyName,
  facingOf,
  type Job,
  joinedBy,
  partRef,
  type Seam,
  type Vec3,
} from '../../src/index.ts';
import { words } from '../words.ts';

type Names = Seam['names'];

/** Where the parts of a seam lie, by the axis its plane is squarest to: the one its normal points to, and the other. */
const SIDES = [
  ['right', 'left'],
  ['rear', 'front'],
  ['upper', 'lower'],
] as const;

/** An axis this close to being the squarest is as good; height is told before depth, and depth before width. */
const TIE = 1e-9;

/** The longest name that a job holds. */
const NAME_LENGTH = 80;

/**
 * Names for the two parts of a seam by where they lie as the figure stands. `partName`, that of the part divided, goes
 * before them, so that the parts of parts stay tellable apart; '' for the sculpt.
 */
export function sideNames(normal: Vec3, partName: string): Names {
  const most = Math.max(...normal.map(Math.abs)) * (1 - TIE);
  const axis = [2, 1, 0].find((i) => Math.abs(normal[i]!) >= most) ?? 2;
  const [along, against] = SIDES[axis]!.map((side) => words.sideNames[side]) as [string, string];
  const [front, back] = normal[axis]! < 0 ? [against, along] : [along, against];
  const named = (side: string) => (partName === '' ? side : `${partName} ${side}`.slice(0, NAME_LENGTH));
  return { front: named(front), back: named(back) };
}

/** What the part that a seam divides is called in a job; '' for the sculpt, null where nothing makes it. */
function dividedName({ seams, sculpt }: Job, { of }: Seam): string | null {
  const divided = partRef(of);
  if (divided?.of === 'body') return bodyName(divided.body, bareName(sculpt.file));
  if (divided?.of !== 'seam') return '';
  return seams.find(({ id }) => id === divided.seamId)?.names[divided.side] ?? null;
}

/**
 * The names that a seam's parts would have where nobody typed any; null for one that joins parts, or that waits for a part
 * which nothing makes.
 */
export function proposedNames(job: Job, seam: Seam): Names | null {
  const faces = joinedBy(seam.by) === null ? facingOf(seam.by) : null;
  const divided = dividedName(job, seam);
  return faces && divided !== null ? sideNames(faces, divided) : null;
}

/**
 * The job after a change with the names that were proposed, and nobody typed, following it: where a seam lies otherwise
 * than it did or the part it divides is called otherwise, its parts are called by that. The job itself where none is.
 */
export function followNames(before: Job, after: Job): Job {
  let job = after;
  // In order: a seam follows those that make the part it divides.
  for (const seam of after.seams) {
    const was = before.seams.find(({ id }) => id === seam.id);
    const proposed = was && proposedNames(before, was);
    const now = proposedNames(job, seam);
    // Parts that a seam joins are called what their bodies are, those of a seam that waits what they were.
    if (!was || !proposed || !now) continue;
    const follow = (side: keyof Names) =>
      seam.names[side] === was.names[side] && was.names[side] === proposed[side]
        ? now[side]
        : seam.names[side];
    const names = { front: follow('front'), back: follow('back') };
    if (names.front === seam.names.front && names.back === seam.names.back) continue;
    job = { ...job, seams: job.seams.map((one) => (one.id === seam.id ? { ...one, names } : one)) };
  }
  return job;
}
