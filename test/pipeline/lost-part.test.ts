import { beforeAll, describe, expect, it } from 'vitest';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { createEvaluator, type Evaluator } from '../../src/pipeline/evaluate.ts';
import type { Sculpt } from '../../src/pipeline/sculpt.ts';
import { jobOf, pegWith, type SeamInput, sculptOf } from '../support/job.ts';
import { box, fanned, together } from '../support/simple-solids.ts';
import { foundIn } from '../support/told-codes.ts';

/** A column of 20 × 20 × 60 mm. */
let kernel: Kernel;
let column: Sculpt;
let evaluator: Evaluator;
beforeAll(async () => {
  kernel = await loadKernel();
  column = await sculptOf(fanned(box([-10, -10, -30], [10, 10, 30])));
  evaluator = createEvaluator(onlyHere(kernel), column, 'wait');
});

const low: SeamInput = { id: 'low', offsetMm: -10 };
const high: SeamInput = { id: 'high', of: 'low.front', offsetMm: 12, pegs: [pegWith({ at: [0, 0, 12] })] };

/** What seams come to: the parts, and which seams wait and why. */
async function made(seams: readonly SeamInput[], by = evaluator) {
  const evaluated = await by.evaluate(jobOf(seams));
  return {
    parts: evaluated.evaluation.parts.map(({ id }) => id).sort(),
    cut: evaluated.evaluation.seams.map(({ id }) => id),
    waiting: foundIn(evaluated, 'seam-waits').map(({ seamId, severity, facts }) => ({
      seamId,
      severity,
      why: facts.why,
      instead: facts.instead.map(({ id }) => id),
    })),
  };
}

describe('a seam that has lost its part', () => {
  it('waits where no seam makes the part, and all else is cut', async () => {
    expect(await made([high, { id: 'side', normal: [1, 0, 0] }])).toEqual({
      parts: ['side.back', 'side.front'],
      cut: ['side'],
      waiting: [
        {
          seamId: 'high',
          severity: 'error',
          why: { is: 'not-made', of: 'low.front' },
          instead: ['side.front', 'side.back'],
        },
      ],
    });
  });

  it('waits where it was moved off its part, and so does what divides its sides', async () => {
    const off = await made([{ ...low, offsetMm: -31 }, high]);
    expect([off.parts, off.cut]).toEqual([['sculpt'], []]);
    expect(off.waiting).toEqual([
      { seamId: 'low', severity: 'error', why: { is: 'misses' }, instead: [] },
      { seamId: 'high', severity: 'error', why: { is: 'not-made', of: 'low.front' }, instead: ['sculpt'] },
    ]);
    const below = await made([low, { ...high, offsetMm: -12 }]);
    expect(below.waiting).toEqual([
      { seamId: 'high', severity: 'error', why: { is: 'misses' }, instead: ['low.back'] },
    ]);
  });

  it('waits where another seam has divided the part, by the name of that one', async () => {
    const { parts, waiting } = await made([low, { id: 'late', offsetMm: 5 }]);
    expect(parts).toEqual(['low.back', 'low.front']);
    expect(waiting.map(({ why, instead }) => [why, instead])).toEqual([
      [{ is: 'divided', of: 'sculpt', by: 'low' }, ['low.front']],
    ]);
  });

  it('leaves the sculpt whole where it was to divide a body that is not there', async () => {
    const { parts, waiting } = await made([{ id: 'arm', of: 'body:7' }, low]);
    expect(parts).toEqual(['low.back', 'low.front']);
    expect(waiting.map(({ seamId }) => seamId)).toEqual(['arm']);
  });

  it('waits where two parts it should join no longer touch', async () => {
    const [under, over] = [box([0, 0, 0], [20, 20, 20]), box([0, 0, 20], [20, 20, 40])];
    const two = createEvaluator(
      onlyHere(kernel),
      await sculptOf(together(fanned(under), fanned(over))),
      'wait',
    );
    const lid: SeamInput = { id: 'lid', of: 'body:2', offsetMm: 30 };
    const joined = await made([lid, { id: 'hold', bodies: ['lid.back', '1'] }], two);
    expect([joined.cut, joined.waiting]).toEqual([['lid', 'hold'], []]);
    const apart = await made([lid, { id: 'hold', bodies: ['lid.front', '1'] }], two);
    expect(apart.cut).toEqual(['lid']);
    expect(apart.waiting.map(({ why }) => why)).toEqual([{ is: 'no-contact', of: ['lid.front', 'body:1'] }]);
  });

  it('comes back with its joints, to the bit as if it had never waited', async () => {
    const bytes = async (by: Evaluator) => {
      const { tree } = await by.evaluate(jobOf([low, high]));
      return tree.parts.map(({ part }) => part);
    };
    const fresh = await bytes(createEvaluator(onlyHere(kernel), column, 'wait'));
    await bytes(evaluator);
    await evaluator.evaluate(jobOf([high]));
    await evaluator.evaluate(jobOf([{ ...low, offsetMm: 90 }, high]));
    expect(await bytes(evaluator)).toEqual(fresh);
  });

  it('has no outline and no narrowest place while its part is not there, and one where it only misses', async () => {
    await evaluator.evaluate(jobOf([high, { ...low, offsetMm: 40 }]));
    const plane = (offsetMm: number) => ({ kind: 'plane', normal: [0, 0, 1], offsetMm }) as const;
    expect(evaluator.outline('high', plane(5))).toEqual([]);
    expect(evaluator.narrowest('high', plane(5), null)).toBeNull();
    expect(evaluator.squared('high', plane(5))).toBeNull();
    const through = { ...plane(5), through: [[0, 0, 5] as const] };
    expect(evaluator.follow('high', { ...plane(2), through: [[0, 0, 2]] }, through)).toBe(through);
    expect(evaluator.outline('low', plane(5))[0].areaMm2).toBeCloseTo(400, 6);
  });

  it('refuses the whole job where that is how it is asked', async () => {
    const strict = createEvaluator(onlyHere(kernel), column);
    await expect(strict.evaluate(jobOf([high]))).rejects.toMatchObject({ code: 'seam-part-unknown' });
    await expect(strict.evaluate(jobOf([{ ...low, offsetMm: 99 }]))).rejects.toMatchObject({
      code: 'seam-misses',
    });
  });
});
