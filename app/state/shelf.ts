import { get, getMany, set, setMany } from 'idb-keyval';
import { keptFiles } from './kept-files.ts';
import type { Shelf } from './ports.ts';

const JOB = 'last-job';
const SCULPT = 'last-sculpt';

/** The browser's own database. Sculpt and job are kept apart, so that an edit rewrites a few kilobytes only. */
export const browserShelf: Shelf = {
  async load() {
    const [job, sculpt] = (await getMany([JOB, SCULPT])) as [unknown, unknown];
    const files = keptFiles(sculpt);
    return job === undefined || files.length === 0 ? null : { job, files };
  },
  async saveSculpt(files, job) {
    await setMany([
      [SCULPT, { files }],
      [JOB, job],
    ]);
  },
  async saveJob(job) {
    if ((await get(SCULPT)) !== undefined) await set(JOB, job);
  },
};
