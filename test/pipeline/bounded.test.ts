import { beforeAll, describe, expect, it } from 'vitest';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { loopArea, windingAt } from '../../src/math/polygon.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { planeSeam, throughOf, withThrough } from '../../src/model/seam-spec.ts';
import { createEvaluator, type Evaluator } from '../../src/pipeline/evaluate.ts';
import { jobOf, pegWith, type SeamInput, sculptOf } from '../support/job.ts';
import { limbed } from '../support/limbed.ts';
import { isSound } from '../support/seam-fixture.ts';
import { legged, moved } from '../support/simple-solids.ts';

let kernel: Kernel;
/** A bar on two legs, far from the origin, so that its coordinates are recentred. */
let bar: Evaluator;
beforeAll(async () => {
  kernel = await loadKernel();
  bar = await evaluatorOf(moved(legged(), [5000, 0, 0]));
});

const evaluatorOf = async (mesh: Mesh) => createEvaluator(onlyHere(kernel), await sculptOf(mesh));
const onLeft = [4975, 0, -8] as const;
const onRight = [5023, 0, -8] as const;
const legs = (changes: Partial<SeamInput> = {}): SeamInput => ({ id: 'leg', offsetMm: -8, ...changes });
const codesOf = (findings: readonly { code: string }[]) => findings.map(({ code }) => code);

describe('a seam through some outlines only', () => {
  it('cuts those, pegs them, and tells where the others are', async () => {
    const job = jobOf([
      legs({ through: [onLeft], pegs: [pegWith({ at: onLeft, widthMm: 4, heightMm: 4 })] }),
    ]);
    const { evaluation, tree } = await bar.evaluate(job);
    const [seam] = evaluation.seams;
    expect(seam.areaMm2).toBeCloseTo(120, 3);
    expect(seam.facets[0].uncut.map(loopArea)).toEqual([expect.closeTo(168, 3)]);
    expect(seam.joints.map(({ way }) => way)).toEqual(['local']);
    expect(tree.parts.map(({ part }) => isSound(part))).toEqual([true, true]);
    expect(Math.abs(evaluation.volume.residualMm3)).toBeLessThan(1e-6 * evaluation.volume.sculptMm3);
    for (const code of ['part-in-pieces', 'face-without-peg', 'volume-unbalanced'])
      expect(codesOf(evaluation.findings)).not.toContain(code);
  });

  it('tells pieces and bare faces of the outlines it cuts, as a whole seam does', async () => {
    const pegs = [pegWith({ at: onLeft, widthMm: 4, heightMm: 4 })];
    const both = await bar.evaluate(jobOf([legs({ through: [onLeft, onRight], pegs })]));
    const plain = await bar.evaluate(jobOf([legs({ pegs })]));
    expect(codesOf(both.evaluation.findings)).toContain('part-in-pieces');
    expect(both.evaluation.findings).toEqual(plain.evaluation.findings);
    expect(both.evaluation.seams[0].facets[0].uncut).toEqual([]);
  });

  it('is cut anew where other points are named, and kept where the same are', async () => {
    const parts = async (through?: (typeof onLeft)[]) =>
      (await bar.evaluate(jobOf([legs(through && { through })]))).tree.parts.map(({ part }) => part);
    const [front] = await parts([onLeft]);
    expect((await parts([onLeft]))[0]).toBe(front);
    expect((await parts([onRight as unknown as typeof onLeft]))[0]).not.toBe(front);
    expect((await parts())[0]).not.toBe(front);
  });

  it('makes parts that later seams divide, bounded or not', async () => {
    const { evaluation, tree } = await bar.evaluate(
      jobOf([
        legs({ through: [onLeft] }),
        legs({ id: 'other', of: 'leg.front', offsetMm: -12, through: [onRight] }),
        { id: 'across', of: 'other.front', normal: [1, 0, 0], offsetMm: 5000 },
        { id: 'foot', of: 'leg.back', offsetMm: -15 },
      ]),
    );
    expect(evaluation.parts.length).toBe(5);
    expect(tree.parts.every(({ part }) => isSound(part))).toBe(true);
    expect(evaluation.parts.map(({ shells }) => shells)).toEqual([1, 1, 1, 1, 1]);
    expect(Math.abs(evaluation.volume.residualMm3)).toBeLessThan(1e-6 * evaluation.volume.sculptMm3);
  });

  it('may divide a part again along a plane that a face of it lies in', async () => {
    const { evaluation, tree } = await bar.evaluate(
      jobOf([legs({ through: [onLeft] }), legs({ id: 'other', of: 'leg.front', through: [onRight] })]),
    );
    expect(evaluation.parts.map(({ volumeMm3 }) => Math.round(volumeMm3))).toEqual(
      expect.arrayContaining([10 * 12 * 12, 14 * 12 * 12]),
    );
    expect(tree.parts.every(({ part }) => isSound(part))).toBe(true);
  });
});

describe('the outlines of a plane that is not cut yet', () => {
  it('are all there, those that the points mean apart from the others', () => {
    const [face] = bar.outline('leg', withThrough(planeSeam([0, 0, 1], -8), [onLeft]));
    expect(face.outlines.map(loopArea)).toEqual([expect.closeTo(120, 3)]);
    expect(face.uncut.map(loopArea)).toEqual([expect.closeTo(168, 3)]);
    expect([face.areaMm2, face.perimeterMm]).toEqual([expect.closeTo(120, 3), expect.closeTo(44, 3)]);
    const [whole] = bar.outline('leg', planeSeam([0, 0, 1], -8));
    expect([whole.outlines.length, whole.uncut]).toEqual([2, []]);
  });

  it('follow their limbs from where they were chosen, and end with them', async () => {
    const body = await evaluatorOf(limbed(3, 3));
    const from = planeSeam([0, 0, 1], -20);
    const [first] = body.outline('leg', from);
    expect(first.outlines.length).toBe(3);
    const [limb] = first.outlines;
    const { origin, u, v } = first.frame;
    const through = [0, 1, 2].map((k) => origin[k] + limb[0] * u[k] + limb[1] * v[k]) as never;
    const tilted = planeSeam([0.1, -0.1, 1], -23);
    const chosen = withThrough(from, [through]);
    const followed = body.follow('leg', chosen, withThrough(tilted, [through]))!;
    const [face] = body.outline('leg', followed);
    expect([face.outlines.length, face.uncut.length]).toEqual([1, 2]);
    const [point] = throughOf(followed)!;
    expect(point.every((c) => Math.abs(c * 1e4 - Math.round(c * 1e4)) < 1e-6)).toBe(true);
    const at = point.map((c, k) => c - face.frame.origin[k]);
    const [x, y] = [face.frame.u, face.frame.v].map((axis) => axis.reduce((s, a, k) => s + a * at[k], 0));
    expect(windingAt(face.outlines, x, y)).toBe(1);
    expect(body.follow('leg', chosen, withThrough(planeSeam([0, 0, 1], -60), [through]))).toBeNull();
  });
});
