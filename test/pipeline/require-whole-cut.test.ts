import { beforeAll, describe, expect, it } from 'vitest';
import { PegwrightError } from '../../src/errors.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { jobOf, sculptOf } from '../support/job.ts';
import { box, fanned, together } from '../support/simple-solids.ts';

/** Two posts side by side: a level plane meets them in two outlines. */
const posts = together(fanned(box([0, 0, -10], [10, 10, 10])), fanned(box([30, 0, -10], [40, 10, 10])));
const onFirst = [5, 5, 0] as const;
const onSecond = [33, 2, 0] as const;

describe('a seam through some outlines only', () => {
  let kernel: Kernel;
  beforeAll(async () => {
    kernel = await loadKernel();
  });

  const evaluate = async (through?: (readonly [number, number, number])[]) =>
    (
      await createEvaluator(onlyHere(kernel), await sculptOf(posts)).evaluate(
        jobOf([through ? { through } : {}]),
      )
    ).evaluation;

  it('is an ordinary one where the points name every outline, or there are none', async () => {
    const plain = await evaluate();
    expect(plain.seams[0].areaMm2).toBeCloseTo(200, 6);
    expect((await evaluate([onFirst, onSecond])).parts).toEqual(plain.parts);
  });

  it('is refused where an outline is left out', async () => {
    for (const through of [[onFirst], [onSecond], [onFirst, onFirst]]) {
      const refusal = await evaluate(through).then(
        () => null,
        (thrown: unknown) => thrown,
      );
      expect(refusal).toBeInstanceOf(PegwrightError);
      const { code, facts } = refusal as PegwrightError;
      expect([code, facts]).toEqual(['seam-bounded', { seamId: 'neck', outlines: 2, chosen: 1 }]);
    }
  });
});
