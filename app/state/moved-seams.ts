import { isSameSeam, type Job } from '../../src/index.ts';
import { findSeam } from './job-edits.ts';

/** True where a seam of `job` lies elsewhere than it did in `shown`, or is new: what is on the bench is not it. */
export function hasSeamMoved(shown: Job | null, job: Job, seamId: string): boolean {
  const before = shown === null ? null : findSeam(shown, seamId);
  const now = findSeam(job, seamId);
  if (before === null || now === null) return before !== now;
  return !isSameSeam(before.by, now.by);
}

/** True where the seams that cut the sculpt differ in any way between two jobs. */
export const haveSeamsMoved = (shown: Job | null, job: Job): boolean =>
  shown === null ||
  shown.seams.length !== job.seams.length ||
  job.seams.some((seam) => hasSeamMoved(shown, job, seam.id) || findSeam(shown, seam.id)?.of !== seam.of);
