import { DEMO_JOB } from '../../src/demo/demo-job.ts';
import type { Job, Peg } from '../../src/model/job.ts';

/** The demo's seam with three pegs on it, the first moved by `shift` mm along the level direction of the face. */
export function threePegJob(shift = 0): Job {
  const [seam] = DEMO_JOB.seams;
  const [peg] = seam.pegs;
  if (peg.at === 'auto') throw new Error('the demo places its peg itself');
  const [x, y, z] = peg.at;
  // Across the plane's normal (0.8, 0, 0.6): level is y, up the face is (−0.6, 0, 0.8).
  const at = (level: number, up: number): Peg => ({
    ...peg,
    at: [x - 0.6 * up, y + level, z + 0.8 * up],
    widthMm: 4,
    heightMm: 4,
    lengthMm: 5,
  });
  return { ...DEMO_JOB, seams: [{ ...seam, pegs: [at(-7 + shift, 0), at(7, 0), at(0, 7)] }] };
}
