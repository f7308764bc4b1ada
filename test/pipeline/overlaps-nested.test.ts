import { beforeAll, describe, expect, it } from 'vitest';
import { stillStanding } from '../../src/check/still-standing.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { jobOf, type SeamInput, sculptOf } from '../support/job.ts';
import { box, fanned, together } from '../support/simple-solids.ts';

/** Whether shells that overlap are still told of once a job's seams have trimmed one by the other. */

type Corner = [number, number, number];
const solid = (min: Corner, max: Corner) => fanned(box(min, max));

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const nestOf = (front: string, back: string): SeamInput => ({
  id: `${front}-${back}`,
  bodies: [front, back],
  nest: { nestGapMm: 0.1 },
});

/** Whether overlaps are told on opening, and whether they still are beside what the job makes. */
async function told(figure: Mesh, ...seams: SeamInput[]): Promise<[onOpening: boolean, still: boolean]> {
  const sculpt = await sculptOf(figure);
  const { evaluation } = await createEvaluator(onlyHere(kernel), sculpt).evaluate(jobOf(seams));
  const isTold = (findings: readonly { code: string }[]) =>
    findings.some(({ code }) => code === 'shells-overlap');
  return [isTold(sculpt.findings), isTold(stillStanding(sculpt.findings, evaluation))];
}

/** Blocks along X, each 4 mm into the one before it. */
const LEFT = solid([0, 0, 0], [20, 20, 20]);
const MIDDLE = solid([16, 3, 3], [40, 17, 17]);
const RIGHT = solid([36, 5, 5], [60, 15, 15]);
/** Wholly within the left one. */
const SWALLOWED = solid([4, 4, 4], [8, 8, 8]);

describe('shells that overlap are told of', () => {
  it('no more where a seam trims one by the other', async () => {
    expect(await told(together(LEFT, MIDDLE), nestOf('2', '1'))).toEqual([true, false]);
  });

  it('until the last two are nested', async () => {
    const row = together(LEFT, MIDDLE, RIGHT);
    expect(await told(row, nestOf('2', '1'))).toEqual([true, true]);
    // The second seam joins what the first one left of the middle.
    expect(await told(row, nestOf('2', '1'), nestOf('3', '2-1.front'))).toEqual([true, false]);
  });

  it('where one lies within another beside them', async () => {
    expect(await told(together(LEFT, MIDDLE, SWALLOWED), nestOf('2', '1'))).toEqual([true, true]);
  });

  it('where sides of seams are nested: others may share as much', async () => {
    const cut: SeamInput = { id: 'cut', of: 'body:2', normal: [1, 0, 0], offsetMm: 30 };
    expect(await told(together(LEFT, MIDDLE), cut, nestOf('cut.back', '1'))).toEqual([true, true]);
    expect(await told(together(LEFT, MIDDLE), cut)).toEqual([true, true]);
  });

  it('not at all where they do not overlap', async () => {
    expect(await told(together(LEFT, RIGHT), { of: 'body:1', normal: [1, 0, 0], offsetMm: 9 })).toEqual([
      false,
      false,
    ]);
  });
});
