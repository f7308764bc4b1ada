import type { FindingCode } from '../../src/check/finding.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { loadKernel } from '../../src/kernel/load.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { jobOf, pegWith, type SeamInput, sculptOf } from '../support/job.ts';
import { box, fanned } from '../support/simple-solids.ts';
import type { CodeCase } from './code-case.ts';

/** What is told of a block of 40 mm with these seams. */
const told =
  (...seams: SeamInput[]) =>
  async () => {
    const sculpt = await sculptOf(fanned(box([-20, -20, -20], [20, 20, 20])));
    const { evaluation } = await createEvaluator(onlyHere(await loadKernel()), sculpt).evaluate(jobOf(seams));
    return evaluation.findings.map(({ code }) => code);
  };

const secondAt = (offsetMm: number): SeamInput => ({ id: 'second', of: 'neck.front', offsetMm });

const small = (at: [number, number, number]) => pegWith({ at, widthMm: 4, heightMm: 4, lengthMm: 4 });

export const FINDING_CASES: CodeCase<FindingCode>[] = [
  { code: 'part-too-thin', comes: told({ offsetMm: 19.999 }), stays: told({ offsetMm: 19.9 }) },
  {
    code: 'joint-crosses-seam',
    comes: told({ pegs: [pegWith()] }, secondAt(5)),
    stays: told({ pegs: [pegWith()] }, secondAt(8)),
  },
  {
    // The socket of the second lies within that of the first, so nothing of it is left.
    code: 'gap-unmeasured',
    comes: told({ pegs: [pegWith({ widthMm: 12, heightMm: 12, lengthMm: 12 }), small([0, 0, 0])] }),
    stays: told({ pegs: [pegWith({ widthMm: 12, heightMm: 12, lengthMm: 12 }), small([10, 0, 0])] }),
  },
];
