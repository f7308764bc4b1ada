import type { FindingCode } from '../../src/check/finding.ts';
import type { ErrorCode } from '../../src/errors.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { loadKernel } from '../../src/kernel/load.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { jobOf, type SeamInput, sculptOf } from '../support/job.ts';
import { box, fanned } from '../support/simple-solids.ts';
import { refusalIn } from '../support/told-codes.ts';
import type { CodeCase } from './code-case.ts';

const column = async () =>
  createEvaluator(
    onlyHere(await loadKernel()),
    await sculptOf(fanned(box([-10, -10, -30], [10, 10, 30]))),
    'wait',
  );

const low: SeamInput = { id: 'low', offsetMm: -10 };

/** What is told where seams wait rather than refuse their job. */
const waited =
  (...seams: SeamInput[]) =>
  async () =>
    (await (await column()).evaluate(jobOf(seams))).evaluation.findings.map(({ code }) => code);

/** What is told where the second of two seams is to come first. */
const reordered = (second: SeamInput) => async () => {
  const evaluator = await column();
  return refusalIn(() => evaluator.reorder(jobOf([low, second]), second.id ?? '', 'earlier'));
};

export const FINDING_CASES: CodeCase<FindingCode>[] = [
  {
    code: 'seam-waits',
    comes: waited(low, { id: 'high', of: 'low.front', offsetMm: -10.1 }),
    stays: waited(low, { id: 'high', of: 'low.front', offsetMm: -9.9 }),
  },
];

export const REFUSAL_CASES: CodeCase<ErrorCode>[] = [
  {
    code: 'seam-order-fixed',
    comes: reordered({ id: 'side', of: 'low.front', normal: [1, 0, 0] }),
    stays: reordered({ id: 'high', of: 'low.front', offsetMm: 12 }),
  },
];
