import type { Finding } from '../check/finding.ts';
import { PegwrightError } from '../errors.ts';
import type { Job } from '../model/job.ts';
import type { Evaluated } from './evaluate.ts';

export type Evaluate = (job: Job) => Promise<Evaluated>;

/** What comes of a job that is only tried; null where it is refused. */
export async function triedJob(evaluate: Evaluate, job: Job): Promise<Evaluated | null> {
  try {
    return await evaluate(job);
  } catch (thrown) {
    if (thrown instanceof PegwrightError) return null;
    throw thrown;
  }
}

/** What is told against a job, not only of it. */
export const against = (findings: readonly Finding[]): Finding[] =>
  findings.filter(({ severity }) => severity !== 'info');
