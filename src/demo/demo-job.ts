import type { Job } from '../model/job.ts';
import { COMMONEST_KIND } from '../model/joint.ts';
import { planeSeam } from '../model/seam-spec.ts';

/** The file the demo figure is served as. */
export const DEMO_FILE = 'heron.ply.gz';

/** What a newcomer sees first: the heron, parted across its breast, with one peg already well placed. */
export const DEMO_JOB: Job = {
  format: 'pegwright-job',
  version: 2,
  sculpt: { file: DEMO_FILE, unit: 'mm', scale: 1 },
  process: { name: 'resin', sideGapMm: 0.12, endGapMm: 0.4, minWallMm: 1.2, bedMm: [140, 85, 170] },
  seams: [
    {
      id: 'body',
      of: 'sculpt',
      by: planeSeam([0.8, 0, 0.6], 63.2),
      pegOn: 'back',
      names: { front: 'head', back: 'post' },
      joints: [
        {
          id: 'a',
          kind: COMMONEST_KIND,
          at: [0.4, 0, 104.8],
          widthMm: 12,
          heightMm: 9,
          lengthMm: 10,
          draftDeg: 6,
          edgeRadiusMm: 0.8,
          spinDeg: 0,
        },
      ],
    },
  ],
};
