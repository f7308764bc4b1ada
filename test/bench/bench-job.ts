import { DEMO_JOB } from '../../src/demo/demo-job.ts';
import type { Job } from '../../src/model/job.ts';
import type { AskedJoint } from '../../src/model/joint.ts';

/** The demo's seam with three pegs on it, the first moved by `shift` mm along the level direction of the face. */
export function threePegJob(shift = 0): Job {
  const [seam] = DEMO_JOB.seams;
  const [peg] = seam.joints;
  if (peg.at === 'auto') throw new Error('the demo places its peg itself');
  const [x, y, z] = peg.at;
  // Across the plane's normal (0.8, 0, 0.6): level is y, up the face is (−0.6, 0, 0.8).
  const at = (id: string, level: number, up: number): AskedJoint => ({
    ...peg,
    id,
    at: [x - 0.6 * up, y + level, z + 0.8 * up],
    widthMm: 4,
    heightMm: 4,
    lengthMm: 5,
  });
  return {
    ...DEMO_JOB,
    seams: [{ ...seam, joints: [at('a', -7 + shift, 0), at('b', 7, 0), at('c', 0, 7)] }],
  };
}
