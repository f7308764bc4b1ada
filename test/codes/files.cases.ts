import type { FindingCode } from '../../src/check/finding.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { loadKernel } from '../../src/kernel/load.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { openSculpt } from '../../src/pipeline/sculpt.ts';
import { jobOf } from '../support/job.ts';
import { asSource, obj } from '../support/mesh-files.ts';
import { box } from '../support/simple-solids.ts';
import type { CodeCase } from './code-case.ts';

/** What is told of a block of 40 mm so far along X, cut through its middle. */
const cutAt = (x: number) => async () => {
  const file = asSource('figure.obj', obj(box([x, -20, -20], [x + 40, 20, 20])));
  const sculpt = await openSculpt(file, { scale: 1 });
  const job = jobOf([{ normal: [1, 0, 0], offsetMm: x + 20.3 }]);
  const { evaluation } = await createEvaluator(onlyHere(await loadKernel()), sculpt).evaluate(job);
  return evaluation.findings.map(({ code }) => code);
};

export const FINDING_CASES: CodeCase<FindingCode>[] = [
  { code: 'parts-moved', comes: cutAt(100_000.1), stays: cutAt(100) },
];
