import type { Job, Names } from '../../src/index.ts';
import { words } from '../words.ts';

/** What a job's seams and parts are called on the page; what is no more goes by its id. */
export function namesIn({ seams }: Job): Names {
  const find = (id: string) => seams.find((seam) => seam.id === id);
  return {
    seam: (id) => {
      const seam = find(id);
      return seam ? words.seamTitle(seam.names.front, seam.names.back) : id;
    },
    part: (id) => {
      const [, seamId, side] = /^(.*)\.(front|back)$/.exec(id) ?? [];
      const seam = seamId === undefined ? undefined : find(seamId);
      return seam ? seam.names[side as 'front' | 'back'] : id;
    },
  };
}
