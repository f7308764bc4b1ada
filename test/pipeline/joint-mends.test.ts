import { beforeAll, describe, expect, it } from 'vitest';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { loadKernel } from '../../src/kernel/load.ts';
import type { Job } from '../../src/model/job.ts';
import { createEvaluator, type Evaluator } from '../../src/pipeline/evaluate.ts';
import { type JointMend, jointMends } from '../../src/pipeline/joint-mends.ts';
import { jobOf, pegWith as peg, type SeamInput, sculptOf } from '../support/job.ts';
import { box, fanned } from '../support/simple-solids.ts';

/** A block of 40 mm, cut level in its middle, and once more above. */
let block: Evaluator;
beforeAll(async () => {
  const sculpt = await sculptOf(fanned(box([-20, -20, -20], [20, 20, 20])));
  block = createEvaluator(onlyHere(await loadKernel()), sculpt);
});

const twoSeams = (low: SeamInput, other: SeamInput) =>
  jobOf([
    { pegOn: 'back', ...low },
    { id: 'second', of: 'neck.front', ...other },
  ]);

const evaluate = (job: Job) => block.evaluate(job);

/** Codes of what is told against a job. */
const against = async (job: Job) =>
  (await evaluate(job)).evaluation.findings
    .filter(({ severity }) => severity !== 'info')
    .map(({ code }) => code);

/** The job with one of its mends made. */
const mended = (job: Job, { sizes, moved }: JointMend): Job => ({
  ...job,
  seams: job.seams.map((seam, i) => {
    const patch = Object.fromEntries(sizes.map(({ name, mm }) => [name, mm]));
    const change = { ...patch, ...(moved && { at: moved.at }) };
    return i > 0 ? seam : { ...seam, joints: seam.joints.map((joint) => ({ ...joint, ...change })) };
  }),
});

const CASES: [string, string, Job][] = [
  [
    'a later seam runs through it',
    'joint-crosses-seam',
    twoSeams({ pegs: [peg({ lengthMm: 8 })] }, { offsetMm: 7, pegs: [peg({ at: [14, 14, 7] })] }),
  ],
  [
    'another seam’s peg is in it',
    'pegs-too-close',
    twoSeams(
      { pegs: [peg({ lengthMm: 8 })] },
      { offsetMm: 12, pegOn: 'front', pegs: [peg({ at: [1, 1, 12], lengthMm: 6 })] },
    ),
  ],
  [
    'another seam’s face is near',
    'wall-thin',
    twoSeams({ pegs: [peg({ lengthMm: 8 })] }, { offsetMm: 9, pegs: [peg({ at: [14, 14, 9] })] }),
  ],
];

describe('a peg that is in the way of another seam', () => {
  it.each(CASES)('is offered changes that clear it where %s, with what each gives', async (_, code, job) => {
    expect(await against(job)).toContain(code);
    const mends = await jointMends(evaluate, job, 'neck', 'a');
    expect(mends.length).toBeGreaterThan(0);
    for (const mend of mends) {
      const after = mended(job, mend);
      expect(await against(after)).toEqual([]);
      const [joint] = (await evaluate(after)).evaluation.seams[0].joints;
      expect(joint.wallMm.min).toBe(mend.wallMm);
      expect(mend.wallMm).toBeGreaterThanOrEqual(1.2);
      for (const { mm, nowMm } of mend.sizes) expect(mm).toBeLessThan(nowMm);
    }
  });

  it('is offered nothing where no change clears it, nor one that is not there', async () => {
    const job = twoSeams({ pegs: [peg()] }, { offsetMm: 1, pegs: [peg({ at: [14, 14, 1] })] });
    expect(await against(job)).toContain('joint-crosses-seam');
    expect(await jointMends(evaluate, job, 'neck', 'a')).toEqual([]);
    expect(await jointMends(evaluate, job, 'neck', 'z')).toEqual([]);
    expect(await jointMends(evaluate, job, 'none', 'a')).toEqual([]);
  });
});
