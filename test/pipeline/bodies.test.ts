import { beforeAll, describe, expect, it } from 'vitest';
import { PegwrightError } from '../../src/errors.ts';
import { memorySource } from '../../src/io/bytes/source.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { bodyIds, knownId, partId, partRef } from '../../src/model/part-ref.ts';
import { partTree, undivided } from '../../src/model/part-tree.ts';
import { bodiesIn } from '../../src/pipeline/bodies.ts';
import { createEvaluator, type Evaluator } from '../../src/pipeline/evaluate.ts';
import { openSculpt, type Sculpt } from '../../src/pipeline/sculpt.ts';
import { jobOf, pegWith, sculptOf } from '../support/job.ts';
import { obj } from '../support/mesh-files.ts';
import { isSound, volumeOf } from '../support/seam-fixture.ts';
import { box, fanned, together } from '../support/simple-solids.ts';

/** A cube of 20 mm, one of 10 with a hollow of 4 in it, and between them in the file the hollow. */
const cube = fanned(box([0, 0, 0], [20, 20, 20]));
const small = fanned(box([30, 0, 0], [40, 10, 10]));
const filling = fanned(box([33, 3, 3], [37, 7, 7]));
const hollow = { ...filling, triangles: filling.triangles.slice().reverse() };

let kernel: Kernel;
let sculpt: Sculpt;
let evaluator: Evaluator;
beforeAll(async () => {
  kernel = await loadKernel();
  sculpt = await sculptOf(together(cube, hollow, small));
  evaluator = createEvaluator(onlyHere(kernel), sculpt);
});

/** An object whose faces count from `by` vertices before it. */
const further = (text: string, by: number): string =>
  text.replace(/^f .*/gm, (face) => face.replace(/\d+/g, (n) => `${Number(n) + by}`));

const refusal = (run: Promise<unknown>) =>
  run.then(
    () => null,
    (thrown) => (thrown instanceof PegwrightError ? { code: thrown.code, facts: thrown.facts } : thrown),
  );

describe('the bodies of a sculpt', () => {
  it('are its shells, each hollow with the shell around it', () => {
    const bodies = bodiesIn(sculpt);
    expect(bodies.map(({ name, part }) => [name, volumeOf(part)])).toEqual([
      ['', 8000],
      ['', 1000 - 64],
    ]);
    expect(bodies.every(({ part }) => isSound(part))).toBe(true);
    expect(bodiesIn(sculpt)).toBe(bodies);
  });

  it('are those that the file tells apart, by their names', async () => {
    const text = `o arm\n${obj(box([0, 0, 0], [4, 4, 4]))}\no hand\n${further(obj(box([9, 0, 0], [12, 3, 3])), 8)}\n`;
    const two = await openSculpt(memorySource('two.obj', new TextEncoder().encode(text)), { scale: 1 });
    expect(bodiesIn(two).map(({ name, part }) => [name, volumeOf(part)])).toEqual([
      ['arm', 64],
      ['hand', 27],
    ]);
  });
});

describe('a seam that divides a body', () => {
  it('leaves the others whole, as parts of their own, to the bit', async () => {
    const { evaluation, tree } = await evaluator.evaluate(
      jobOf([{ of: 'body:1', offsetMm: 8, pegs: [pegWith({ at: [10, 10, 8] })] }]),
    );
    expect(evaluation.parts.map(({ id, name, closed }) => [id, name, closed])).toEqual([
      ['body:2', 'figure 2', true],
      ['neck.front', 'neck front', true],
      ['neck.back', 'neck back', true],
    ]);
    expect(tree.parts[0].part).toBe(bodiesIn(sculpt)[1].part);
    expect(Math.abs(evaluation.volume.residualMm3)).toBeLessThan(1e-3);
    expect(evaluation.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
  });

  it('may be one of several, each through its own body', async () => {
    const { evaluation } = await evaluator.evaluate(
      jobOf([
        { of: 'body:2', offsetMm: 8.5 },
        { id: 'trunk', of: 'body:1', offsetMm: 8 },
      ]),
    );
    expect(evaluation.parts.map(({ id }) => id)).toEqual([
      'neck.front',
      'neck.back',
      'trunk.front',
      'trunk.back',
    ]);
  });

  it('is refused where there is no such body, or no longer, with what there is', async () => {
    expect(await refusal(evaluator.evaluate(jobOf([{ of: 'body:3' }])))).toMatchObject({
      code: 'seam-part-unknown',
      facts: { of: 'body:3', dividedBy: null, parts: [{ id: 'body:1' }, { id: 'body:2' }] },
    });
    const both = [{ offsetMm: 8 }, { id: 'late', of: 'body:1', offsetMm: 4 }];
    expect(await refusal(evaluator.evaluate(jobOf(both)))).toMatchObject({
      code: 'seam-part-unknown',
      facts: { seamId: 'late', dividedBy: 'neck' },
    });
    const again = [
      { of: 'body:1', offsetMm: 8 },
      { id: 'late', of: 'sculpt', offsetMm: 4 },
    ];
    expect(await refusal(evaluator.evaluate(jobOf(again)))).toMatchObject({
      code: 'seam-part-unknown',
      facts: { seamId: 'late', of: 'sculpt' },
    });
  });
});

describe('references to bodies', () => {
  it('are read as they are written', () => {
    for (const ref of [{ of: 'body', body: 'left arm.front view' } as const, { of: 'sculpt' } as const])
      expect(partRef(partId(ref))).toEqual(ref);
    expect(partRef('neck.back')).toEqual({ of: 'seam', seamId: 'neck', side: 'back' });
    expect(partRef('body:')).toBeNull();
  });

  it('go by a name that no other body has, else by the number', () => {
    const names = ['arm', '', 'leg', 'leg', '7'];
    expect(bodyIds(names)).toEqual(['body:arm', 'body:2', 'body:3', 'body:4', 'body:5']);
    expect(knownId('body:1', names)).toBe('body:arm');
    expect(knownId('body:arm', names)).toBe('body:arm');
    expect(knownId('body:leg', names)).toBe('body:3');
    expect(knownId('body:9', names)).toBe('body:9');
    expect(knownId('neck.front', names)).toBe('neck.front');
  });

  it('take the tree’s root apart', () => {
    const { root, astray } = partTree(jobOf([{ of: 'body:2' }, { id: 'lost', of: 'sculpt' }]), ['', 'arm']);
    expect(undivided(root).map(({ id }) => id)).toEqual(['body:1', 'neck.front', 'neck.back']);
    expect(root.bodies[1].seam?.seam.id).toBe('neck');
    expect(astray.map(({ id }) => id)).toEqual(['lost']);
  });
});
