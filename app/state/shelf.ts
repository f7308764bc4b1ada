import { get, getMany, set, setMany } from 'idb-keyval';
import type { Shelf } from './ports.ts';

const JOB = 'last-job';
const SCULPT = 'last-sculpt';

/** The browser's own database. Sculpt and job are kept apart, so that an edit rewrites a few kilobytes only. */
export const browserShelf: Shelf = {
  async load() {
    const [job, sculpt] = (await getMany([JOB, SCULPT])) as [
      unknown,
      { blob?: unknown; name?: unknown } | undefined,
    ];
    if (job === undefined || !(sculpt?.blob instanceof Blob) || typeof sculpt.name !== 'string') return null;
    return { job, blob: sculpt.blob, name: sculpt.name };
  },
  async saveSculpt(blob, name, job) {
    await setMany([
      [SCULPT, { blob, name }],
      [JOB, job],
    ]);
  },
  async saveJob(job) {
    if ((await get(SCULPT)) !== undefined) await set(JOB, job);
  },
};
