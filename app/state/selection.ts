import type { Job, Vec3 } from '../../src/index.ts';
import { homeAxis } from '../tools/tilt.ts';
import type { BenchState, Sitting } from './bench-state.ts';
import { findSeam } from './job-edits.ts';

/** The selection made to fit a job: what no longer exists is let go, and the first seam is chosen if none is. */
export function fittedSelection(sitting: Sitting, job: Job): Sitting {
  const seam = findSeam(job, sitting.seamId) ?? job.seams[0] ?? null;
  if (seam === null)
    return { ...sitting, seamId: null, pegIndex: null, adding: false, tab: lessPeg(sitting.tab) };
  const last = seam.pegs.length - 1;
  const wanted = seam.id === sitting.seamId ? sitting.pegIndex : 0;
  const pegIndex = last < 0 ? null : Math.min(wanted ?? 0, last);
  const tab = pegIndex === null ? lessPeg(sitting.tab) : sitting.tab;
  return { ...sitting, seamId: seam.id, pegIndex, tab, homes: withHomes(sitting.homes, job) };
}

const lessPeg = (tab: Sitting['tab']): Sitting['tab'] => (tab === 'peg' ? 'seam' : tab);

/** A seam leaning farther than this from its home axis (cosine of 80°) is told from another one. */
const HOME_COS = 0.17;

/** Keeps each seam's home axis while it still serves, so that the two angles do not jump while they are typed. */
function withHomes(homes: Record<string, Vec3>, job: Job): Record<string, Vec3> {
  const next: Record<string, Vec3> = {};
  for (const { id, plane } of job.seams) {
    const kept = homes[id];
    const { normal } = plane;
    const lean = kept ? kept[0] * normal[0] + kept[1] * normal[1] + kept[2] * normal[2] : 0;
    next[id] = kept && lean > HOME_COS * Math.hypot(...normal) ? kept : homeAxis(normal);
  }
  return next;
}

/** State with its selection made to fit the present job. */
export const refitted = (state: BenchState): BenchState => ({
  ...state,
  sitting: fittedSelection(state.sitting, state.saved.history.present.job),
});
