import { createStore, getMany, promisifyRequest, setMany } from 'idb-keyval';
import { keptFiles } from './kept-files.ts';
import type { Shelf } from './ports.ts';

const JOB = 'last-job';
const SCULPT = 'last-sculpt';
const inStore = createStore('keyval-store', 'keyval');

/** The browser's own database. Sculpt and job are kept apart, so that an edit rewrites a few kilobytes only. */
export const browserShelf: Shelf = {
  async load() {
    const [job, sculpt] = (await getMany([JOB, SCULPT], inStore)) as [unknown, unknown];
    const files = keptFiles(sculpt);
    return job === undefined || files.length === 0 ? null : { job, files };
  },
  async saveSculpt(files, job) {
    await setMany(
      [
        [SCULPT, { files }],
        [JOB, job],
      ],
      inStore,
    );
  },
  // One transaction that reads no sculpt: the sooner it is over, the less a closed tab can take.
  saveJob: (job) =>
    inStore('readwrite', (store) => {
      const sculpt = store.getKey(SCULPT);
      sculpt.onsuccess = () => {
        if (sculpt.result !== undefined) store.put(job, JOB);
      };
      return promisifyRequest(store.transaction);
    }),
};
