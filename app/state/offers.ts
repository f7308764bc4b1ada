import {
  type Job,
  joinedBy,
  partId,
  partLookup,
  partTree,
  SCULPT,
  type Seam,
  type TouchingBodies,
} from '../../src/index.ts';
import { type BenchState, jobOf } from './bench-state.ts';
import { isSame } from './is-same.ts';
import { type Bounds, middleSeam, touchingSeam } from './new-seam.ts';

type Joinable = Pick<TouchingBodies, 'front' | 'back'>;

/** Two bodies that touch and may be joined, by what they are called. */
export interface Offer extends TouchingBodies {
  names: Seam['names'];
}

/** The pairs of bodies on the bench that touch and can still be joined. */
export function offersOf(state: BenchState): Offer[] {
  const { touching, summary } = state.derived;
  if (touching.length === 0 || summary === null) return [];
  const nameOf = (id: string) => summary.solids.find((solid) => solid.id === id)?.name ?? id;
  return touching
    .map((pair) => ({ ...pair, names: { front: nameOf(pair.front), back: nameOf(pair.back) } }))
    .filter((offer) => withJoined(state, offer) !== null);
}

/**
 * The job with a seam that joins two bodies, and that seam; null where one of them is joined to the other already, or
 * divided. The seam through the whole figure that a new figure comes with makes way: nobody asked for it.
 */
export function withJoined(
  state: BenchState,
  { names: called, ...pair }: Offer,
): { job: Job; seam: Seam } | null {
  const { summary } = state.derived;
  const job = jobOf(state);
  if (summary === null) return null;
  const seams = isAsItCame(job, summary.boundsMm) ? [] : job.seams;
  const seam = touchingSeam(
    pair,
    called,
    seams.map(({ id }) => id),
  );
  const joined = { ...job, seams: [...seams, seam] };
  const names = summary.solids.map(({ named }) => named);
  const { joining } = partTree(joined, names);
  return areJoined(pair, joining.slice(0, -1), names) || !joining.includes(seam)
    ? null
    : { job: joined, seam };
}

/** True where a job has only the seam that a new figure comes with, and joints that the engine placed, one on each face. */
function isAsItCame({ seams: [seam, ...more] }: Job, boundsMm: Bounds): boolean {
  const fresh = middleSeam(partId(SCULPT), boundsMm, []);
  return (
    seam !== undefined &&
    more.length === 0 &&
    seam.joints.every(({ at }) => at === 'auto') &&
    isSame({ ...seam, joints: [] }, { ...fresh, joints: [] })
  );
}

/** True where one of some seams joins these two bodies, whatever it calls them. */
function areJoined({ front, back }: Joinable, joining: readonly Seam[], names: readonly string[]): boolean {
  const lookup = partLookup(names);
  return joining.some(({ id, by }) => {
    const parts = (joinedBy(by) ?? []).map(lookup.idOf);
    const areThey = [front, back].every((body) => parts.includes(lookup.idOf(body)));
    for (const [i, side] of (['front', 'back'] as const).entries())
      lookup.rename(parts[i]!, partId({ of: 'seam', seamId: id, side }));
    return areThey;
  });
}
