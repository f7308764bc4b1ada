import type { Job } from './job.ts';
import type { AskedJoint } from './joint.ts';

/** Gives a seam of a job other joints. */
export const setJoints = (job: Job, seamId: string, joints: readonly AskedJoint[]): Job => ({
  ...job,
  seams: job.seams.map((seam) => (seam.id === seamId ? { ...seam, joints: [...joints] } : seam)),
});
