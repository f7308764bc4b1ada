import { beforeAll, describe, expect, it } from 'vitest';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { scoped } from '../../src/kernel/scope.ts';
import { meshOf, type Part } from '../../src/mesh/part/part.ts';
import type { Job } from '../../src/model/job.ts';
import { createEvaluator, type Evaluator } from '../../src/pipeline/evaluate.ts';
import { type OneWayMend, oneWayMends } from '../../src/pipeline/one-way-mends.ts';
import { jobOf, type PegInput, pegWith as peg, sculptOf } from '../support/job.ts';
import { box, fanned } from '../support/simple-solids.ts';
import { solidOf } from '../support/symmetric-difference.ts';

/** A block of 40 mm, cut level in its middle: half a turn about its middle brings either half onto itself. */
let kernel: Kernel;
let block: Evaluator;
beforeAll(async () => {
  kernel = await loadKernel();
  const sculpt = await sculptOf(fanned(box([-20, -20, -20], [20, 20, 20])));
  block = createEvaluator(onlyHere(kernel), sculpt);
});

const evaluate = (job: Job) => block.evaluate(job);
const jobWith = (...pegs: PegInput[]) => jobOf([{ pegOn: 'back', pegs }]);
const mended = (job: Job, { joints }: OneWayMend): Job => ({
  ...job,
  seams: job.seams.map((seam) => ({ ...seam, joints })),
});

/** What the front, turned by so much about z, has in common with the back, mm³: the kernel's word. */
async function inTheWay(job: Job, turnDeg: number): Promise<number> {
  const { tree } = await evaluate(job);
  const [front, back] = tree.parts.map(({ part }: { part: Part }) => meshOf(part));
  return scoped((own) => {
    const turned = own(solidOf(kernel, own, front).rotate([0, 0, turnDeg]));
    return own(turned.intersect(solidOf(kernel, own, back))).volume();
  });
}

const small = { widthMm: 6, heightMm: 6, lengthMm: 5 };

const CASES: [string, PegInput[], number[], OneWayMend['isAdded'][]][] = [
  [
    'two equal square pegs',
    [peg({ ...small, at: [-8, 0, 0] }), peg({ ...small, at: [8, 0, 0] })],
    [180],
    [false, false],
  ],
  [
    'two equal round pegs',
    [-8, 8].map((x) => ({ kind: 'round', at: [x, 0, 0], diameterMm: 6, lengthMm: 5 }) as PegInput),
    [180],
    [false],
  ],
  ['an oblong peg alone', [peg({ ...small, widthMm: 8, at: [0, 0, 0] })], [180], [true]],
  ['a square peg alone', [peg({ ...small, at: [0, 0, 0] })], [90, 180, 270], [true]],
  [
    'a round peg alone',
    [{ kind: 'round', at: [0, 0, 0], diameterMm: 7, lengthMm: 5 } as PegInput],
    [90, 180],
    [true],
  ],
  [
    'four equal pegs in a square',
    [
      [-8, -8],
      [8, -8],
      [8, 8],
      [-8, 8],
    ].map(([x, y]) => peg({ ...small, at: [x, y, 0] })),
    [90, 180, 270],
    [false, false],
  ],
];

describe('parts that go together in more ways than one', () => {
  it.each(CASES)(
    '%s: are offered changes, after which every other way is barred',
    async (_, pegs, turns, areAdded) => {
      const job = jobWith(...pegs);
      for (const turn of turns) expect(await inTheWay(job, turn)).toBeLessThan(1e-3);
      const mends = await oneWayMends(evaluate, job, 'neck');
      expect(mends.map(({ isAdded }) => isAdded)).toEqual(areAdded);
      for (const mend of mends) {
        const after = mended(job, mend);
        const { evaluation } = await evaluate(after);
        expect(evaluation.seams[0].oneWay).toBe(true);
        expect(evaluation.findings.filter(({ severity }) => severity !== 'info')).toEqual([]);
        expect(Math.min(...evaluation.seams[0].joints.map(({ wallMm }) => wallMm.min))).toBe(mend.wallMm);
        expect(mend.wallMm).toBeGreaterThanOrEqual(1.2);
        expect(await inTheWay(after, 0)).toBeLessThan(1e-3);
        for (const turn of turns) expect(await inTheWay(after, turn)).toBeGreaterThan(0.5);
        // Nothing but what is told has changed.
        const others = (joints: readonly { id: string }[]) => joints.filter(({ id }) => id !== mend.jointId);
        if (!mend.isAdded) expect(others(mend.joints)).toEqual(others(job.seams[0].joints));
        for (const { to, now } of mend.changes) expect(to).not.toBe(now);
      }
    },
  );

  it('are offered nothing where they go in one way, or have no joint', async () => {
    const unlike = jobWith(peg({ ...small, at: [-8, 0, 0] }), peg({ ...small, widthMm: 8, at: [8, 0, 0] }));
    expect(await oneWayMends(evaluate, unlike, 'neck')).toEqual([]);
    expect(await oneWayMends(evaluate, jobWith(), 'neck')).toEqual([]);
    expect(await oneWayMends(evaluate, unlike, 'elsewhere')).toEqual([]);
  });

  it('are offered nothing where a second peg has no room', async () => {
    const filled = jobWith(peg({ at: [0, 0, 0], widthMm: 36, heightMm: 36, lengthMm: 8 }));
    expect((await evaluate(filled)).evaluation.seams[0].oneWay).toBe(false);
    expect(await oneWayMends(evaluate, filled, 'neck')).toEqual([]);
  });
});
