import { beforeAll, describe, expect, it } from 'vitest';
import { makeRandom } from '../../src/demo/prng.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { checkHealth } from '../../src/mend/report/health.ts';
import { meshOf } from '../../src/mesh/part/part.ts';
import { createEvaluator, type Evaluated, type Evaluator } from '../../src/pipeline/evaluate.ts';
import { jobOf, type PegInput, pegWith as peg, type SeamInput, sculptOf } from '../support/job.ts';
import { proveParts } from '../support/prove-parts.ts';
import { isSound } from '../support/seam-fixture.ts';
import { box, fanned, together } from '../support/simple-solids.ts';
import { sweep } from '../support/sweep.ts';

let kernel: Kernel;
let block: Evaluator;
beforeAll(async () => {
  kernel = await loadKernel();
  block = createEvaluator(onlyHere(kernel), await sculptOf(fanned(box([-20, -20, -20], [20, 20, 20]))));
});

const auto: PegInput = { kind: 'taper', at: 'auto' };
/** A level seam at the origin, and another through what lies above it. */
const twoSeams = (low: SeamInput, other: SeamInput) =>
  jobOf([low, { id: 'second', of: 'neck.front', ...other }]);

const waysOf = ({ evaluation }: Evaluated) =>
  evaluation.seams.map(({ joints }) => joints.map(({ way }) => way).join());
const codesOf = ({ evaluation }: Evaluated) => evaluation.findings.map(({ code }) => code);

function expectSound({ evaluation, tree }: Evaluated, title = ''): void {
  const parts = tree.parts.map(({ part }, i) => ({ part, result: evaluation.parts[i] }));
  for (const { part, result } of parts) {
    expect(isSound(part), `${title} ${result.name}: sound`).toBe(true);
    expect(result.closed, `${title} ${result.name}: closed`).toBe(true);
    expect(checkHealth(meshOf(part)).defects, `${title} ${result.name}`).toEqual([]);
  }
  expect(proveParts(kernel, parts, () => {}).findings, title).toEqual([]);
}

describe('joints of two seams in one part', () => {
  it('are told and left to the kernel where they run into each other', async () => {
    const level = await block.evaluate(
      twoSeams({ pegs: [peg()] }, { offsetMm: 9, pegOn: 'front', pegs: [peg({ at: [2, 1, 9] })] }),
    );
    expect(level.evaluation.findings).toContainEqual(
      expect.objectContaining({
        code: 'pegs-too-close',
        facts: { otherPeg: 0, otherSeam: 'neck' },
        seamId: 'second',
      }),
    );
    expect(waysOf(level).join()).not.toContain('local');
    const upright = await block.evaluate(
      twoSeams(
        { pegs: [peg({ at: [5, 0, 0], lengthMm: 8 })] },
        { normal: [1, 0, 0], offsetMm: -2, pegs: [peg({ at: [-2, 0, 5], lengthMm: 8 })] },
      ),
    );
    expect(codesOf(upright)).toContain('pegs-too-close');
    expect(waysOf(upright).join()).not.toContain('local');
    expectSound(upright);
  });

  it('make way for each other where they seek their own places', async () => {
    for (const second of [
      { offsetMm: 10, pegOn: 'front' as const },
      { offsetMm: 7, pegOn: 'front' as const },
      { normal: [1, 0, 0] as const },
      { normal: [0.6, 0, 0.8] as const, offsetMm: 6 },
    ]) {
      const done = await block.evaluate(twoSeams({ pegs: [auto] }, { ...second, pegs: [auto] }));
      expect(codesOf(done)).not.toContain('pegs-too-close');
      expect(codesOf(done)).not.toContain('no-peg-fits');
      expect(waysOf(done).join()).toMatch(/^(local,)+local$/);
      expectSound(done, JSON.stringify(second));
    }
  });

  it('leave a local joint whole where another seam’s goes through its face', async () => {
    const pierced = await block.evaluate(
      twoSeams(
        { pegs: [peg({ at: [-8, 0, 0] })] },
        { offsetMm: 4, pegs: [peg({ at: [8, 0, 4], lengthMm: 3 })] },
      ),
    );
    expect(waysOf(pierced)).toEqual(['collar', 'local']);
    expectSound(pierced);
    const crossed = await block.evaluate(
      twoSeams({ pegs: [peg()] }, { normal: [1, 0, 0], pegs: [peg({ at: [0, 12, 12], lengthMm: 4 })] }),
    );
    expect(waysOf(crossed)).toEqual(['collar', 'local']);
    expectSound(crossed);
  });

  it('leave a local joint whole where the kernel numbered the part anew', async () => {
    const touching = together(
      fanned(box([-20, -20, -20], [20, 20, 20])),
      fanned(box([20, 20, -20], [30, 30, 20])),
    );
    const evaluator = createEvaluator(onlyHere(kernel), await sculptOf(touching));
    const done = await evaluator.evaluate(
      twoSeams(
        { pegs: [peg({ at: [18, 18, 0] })] },
        { offsetMm: 12, pegs: [peg({ at: [-8, 0, 12], lengthMm: 3 })] },
      ),
    );
    expect(waysOf(done)).toEqual(['kernel', 'local']);
    const parts = done.tree.parts.map(({ part }, i) => ({ part, result: done.evaluation.parts[i] }));
    expect(parts.every(({ part }) => isSound(part))).toBe(true);
    expect(proveParts(kernel, parts, () => {}).proved).toEqual([true, true, true]);
  });

  it('are closed wherever the pegs stand, and never local where they meet, seeds from 1', async () => {
    let met = 0;
    let local = 0;
    const seeds = sweep(1, 60, 20);
    for (const seed of seeds) {
      const random = makeRandom(87_000 + seed);
      const at = (offset: number) => [26 * (random() - 0.5), 26 * (random() - 0.5), offset] as const;
      const offsetMm = 5 + 8 * random();
      const pegOn = random() < 0.5 ? 'front' : 'back';
      const some = (z: number) =>
        Array.from({ length: 2 }, () =>
          peg({ at: at(z), widthMm: 3 + 3 * random(), lengthMm: 3 + 5 * random() }),
        );
      const done = await block.evaluate(
        twoSeams({ pegs: some(0) }, { offsetMm, pegOn, pegs: some(offsetMm) }),
      );
      const title = `seed ${seed}`;
      expect(
        done.tree.parts.every(({ part }) => isSound(part)),
        title,
      ).toBe(true);
      const meet = done.evaluation.findings.some(({ code }) => code === 'pegs-too-close');
      if (meet) met++;
      if (waysOf(done).join() !== 'local,local,local,local') continue;
      local++;
      expect(meet, title).toBe(false);
      expectSound(done, title);
    }
    expect(met).toBeGreaterThan(seeds.length / 10);
    expect(local).toBeGreaterThan(seeds.length / 10);
  }, 60_000);
});
