import { kindFields } from '../joint/kinds.ts';
import { type Job, parseJob } from '../model/job.ts';

/**
 * A job from parsed JSON, with joints of all kinds there are.
 * @throws PegwrightError `job-version` or `job-invalid`.
 */
export const readJob = (file: string, json: unknown): Job => parseJob(file, json, kindFields());
