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

/** What is told of a block of this width and depth, 80 mm high and cut into halves of 40 mm, on a bed of this size. */
const blockOnBed =
  (width: number, depth: number) =>
  (...bedMm: [number, number, number]) =>
  async () => {
    const block = fanned(box([-width / 2, -depth / 2, -40], [width / 2, depth / 2, 40]));
    const kernels = onlyHere(await loadKernel());
    const evaluator = createEvaluator(kernels, await sculptOf(block));
    const { evaluation } = await evaluator.evaluate(jobOf([{}], { bedMm }));
    return evaluation.findings.map(({ code }) => code);
  };

const onBed = blockOnBed(20, 30);
const rodOnBed = blockOnBed(4, 4);

export const FINDING_CASES: CodeCase<FindingCode>[] = [
  { code: 'part-lies-otherwise', comes: onBed(40, 20, 30), stays: onBed(30, 20, 40) },
  { code: 'part-outgrows-bed', comes: onBed(39, 20, 30), stays: onBed(40, 20, 30) },
  // It leans: 40 mm fit along the diagonal of a cube, or do not.
  { code: 'part-lies-otherwise', comes: rodOnBed(32, 32, 32), stays: rodOnBed(26, 26, 26) },
  { code: 'part-outgrows-bed', comes: rodOnBed(26, 26, 26), stays: rodOnBed(32, 32, 32) },
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
