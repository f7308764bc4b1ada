import type { FindingCode } from '../../src/check/finding.ts';
import { type ErrorCode, toErrorRecord } from '../../src/errors.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { loadKernel } from '../../src/kernel/load.ts';
import { partOf } from '../../src/mesh/part/part.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { eachInItsOwn } from '../../src/worker/part-kernels.ts';
import type { Loss } from '../../src/worker/protocol.ts';
import { jobOf, sculptOf } from '../support/job.ts';
import { box, fanned } from '../support/simple-solids.ts';
import type { CodeCase } from './code-case.ts';

/** What is told of a block of 20 × 30 × 80 mm, cut into halves of 40 mm, on a bed of this size. */
const onBed =
  (...bedMm: [number, number, number]) =>
  async () => {
    const sculpt = await sculptOf(fanned(box([-10, -15, -40], [10, 15, 40])));
    const kernels = onlyHere(await loadKernel());
    const { evaluation } = await createEvaluator(kernels, sculpt).evaluate(jobOf([{}], { bedMm }));
    return evaluation.findings.map(({ code }) => code);
  };

export const FINDING_CASES: CodeCase<FindingCode>[] = [
  { code: 'part-lies-otherwise', comes: onBed(40, 20, 30), stays: onBed(30, 20, 40) },
  { code: 'part-outgrows-bed', comes: onBed(39, 20, 30), stays: onBed(40, 20, 30) },
];

/** What is told where a part's joint is given to a worker that is lost in this way. */
const joinLost = (how: Loss) => async () => {
  const lost = async () => ({ type: 'lost', how }) as const;
  const { joinWhole } = eachInItsOwn(await loadKernel(), () => ({ ask: lost, stop: () => {} }));
  const { thrown } = await joinWhole(partOf(fanned(box([0, 0, 0], [1, 1, 1]))), []).then(
    () => ({ thrown: null }),
    (thrown: unknown) => ({ thrown }),
  );
  return [toErrorRecord(thrown).code as ErrorCode];
};

export const REFUSAL_CASES: CodeCase<ErrorCode>[] = [
  { code: 'not-loaded', comes: joinLost('not-loaded'), stays: joinLost('crashed') },
];
