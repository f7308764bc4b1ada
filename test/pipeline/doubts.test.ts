import { beforeAll, describe, expect, it } from 'vitest';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { joinMeshes } from '../../src/mend/bodies.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { openSculpt } from '../../src/pipeline/sculpt.ts';
import { lumpySphere } from '../support/figures.ts';
import { jobOf, type SeamInput, sculptOf } from '../support/job.ts';
import { asSource, binaryStl, obj, triangleCorners } from '../support/mesh-files.ts';
import { proveParts } from '../support/prove-parts.ts';
import { box, fanned, moved } from '../support/simple-solids.ts';

/** What is told on opening of figures that can be cut, and yet are hardly as they were meant. */

type Corner = [number, number, number];
const solid = (min: Corner, max: Corner) => fanned(box(min, max));
const told = (of: { findings: readonly { code: string }[] }) => of.findings.map(({ code }) => code);
const objAt = async (min: Corner, max: Corner) =>
  openSculpt(asSource('figure.obj', obj(box(min, max))), { scale: 1 });
const stlAt = async (min: Corner, max: Corner) =>
  openSculpt(asSource('figure.stl', binaryStl(triangleCorners(box(min, max)))), { scale: 1 });

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

async function proved(mesh: Mesh, seam: SeamInput) {
  const sculpt = await sculptOf(mesh);
  const { evaluation, tree } = await createEvaluator(onlyHere(kernel), sculpt).evaluate(jobOf([seam]));
  const parts = tree.parts.map(({ part }, i) => ({ part, result: evaluation.parts[i] }));
  return { evaluation, ...proveParts(kernel, parts, () => {}) };
}

describe('shells that overlap', () => {
  const TWO = joinMeshes([solid([-20, -20, -20], [20, 20, 20]), solid([10, -5, -5], [40, 5, 5])]);

  it('are told on opening, with a place and what to do', async () => {
    const [found] = (await sculptOf(TWO)).findings;
    expect(found).toMatchObject({
      code: 'shells-overlap',
      severity: 'warning',
      facts: { count: 1, shells: 2, complete: true },
    });
    expect(found.at).toBeDefined();
  });

  it.each([
    ['cross', TWO],
    ['nest', joinMeshes([solid([-20, -20, -20], [20, 20, 20]), solid([-5, -5, -5], [5, 5, 5])])],
  ])('leave the parts they are in unproved, which says why: shells that %s', async (_, mesh) => {
    const { proved: answers, evaluation } = await proved(mesh, { offsetMm: 0.3 });
    expect(answers).toEqual([null, null]);
    expect(told(evaluation).filter((code) => code === 'overlap-unproved')).toHaveLength(2);
  });

  it('leave a part that is clear of them to be proved', async () => {
    const { proved: answers, evaluation } = await proved(TWO, { offsetMm: 8 });
    expect(evaluation.parts.map(({ name }) => name)).toEqual(['neck front', 'neck back']);
    expect(answers).toEqual([true, null]);
  });

  it('are told no more once they are united', async () => {
    const file = asSource('figure.stl', binaryStl([...corners(TWO)]));
    const united = await openSculpt(file, { scale: 1, mend: [{ do: 'unite' }] });
    expect(told(united)).not.toContain('shells-overlap');
    const apart = joinMeshes([lumpySphere(1, 8), moved(lumpySphere(2, 8), [30, 0, 0])]);
    expect((await proved(apart, { normal: [1, 0, 0], offsetMm: 0.3 })).proved).toEqual([true, true]);
  });
});

/** Nine coordinates for each triangle. */
const corners = ({ positions, triangles }: Mesh): number[][] =>
  Array.from({ length: triangles.length / 3 }, (_, t) =>
    [0, 1, 2].flatMap((k) => [...positions.subarray(triangles[t * 3 + k] * 3, triangles[t * 3 + k] * 3 + 3)]),
  );

describe('the size of a figure', () => {
  it.each([1e-28, 1e-3, 0.4, 10_001, 1e6])('is told where nobody would print it: %d mm', async (side) => {
    const sculpt = await objAt([0, 0, 0], [side, side / 2, side / 2]);
    expect(sculpt.findings.find(({ code }) => code === 'size-unlikely')).toMatchObject({
      severity: 'warning',
    });
  });

  it.each([0.6, 20, 9_999])('is not where somebody would: %d mm', async (side) => {
    expect(told(await objAt([0, 0, 0], [side, side / 2, side / 2]))).toEqual([]);
  });

  it('is that after unit and scale', async () => {
    const source = asSource('figure.obj', obj(box([0, 0, 0], [0.1, 0.1, 0.1])));
    expect(told(await openSculpt(source, { scale: 1, unit: 'm' }))).toEqual([]);
    expect(told(await openSculpt(source, { scale: 1 }))).toEqual(['size-unlikely']);
  });
});

describe('coordinates', () => {
  it('so far out that single precision in the file has lost the detail are told', async () => {
    const far = await stlAt([1e6, 0, 0], [1e6 + 40, 40, 40]);
    expect(far.findings).toMatchObject([{ code: 'coordinates-coarse', facts: { stepMm: 0.0625 } }]);
    expect(told(await stlAt([10_000, 0, 0], [10_040, 40, 40]))).toEqual([]);
  });

  it('coarse beside a small figure are told', async () => {
    expect(told(await stlAt([20_000, 0, 0], [20_001, 1, 1]))).toEqual(['coordinates-coarse']);
    expect(told(await stlAt([0, 0, 0], [1, 1, 1]))).toEqual([]);
  });

  it('of a text in double precision are as fine far out as they are near', async () => {
    expect(told(await objAt([1e6, 0, 0], [1e6 + 40, 40, 40]))).toEqual([]);
  });

  it('of a figure of hundreds of metres are told, wherever it lies', async () => {
    expect(told(await objAt([0, 0, 0], [500_000, 40, 40]))).toContain('coordinates-coarse');
  });
});

describe('specks far from a figure', () => {
  const speck = (x: number) => solid([x, 0, 0], [x + 0.5, 0.5, 0.5]);

  it('that make it seem larger are told, and what would drop them does', async () => {
    const mesh = joinMeshes([lumpySphere(1, 20), speck(300), speck(-120)]);
    const sculpt = await sculptOf(mesh);
    const [found] = sculpt.findings.filter(({ code }) => code === 'specks-far');
    expect(found).toMatchObject({ severity: 'warning', facts: { count: 2 } });
    if (found.code !== 'specks-far') return;
    const { belowMm, withMm, sizeMm } = found.facts;
    expect(withMm).toBeCloseTo(420.5, 3);
    const file = asSource('figure.stl', binaryStl(corners(mesh)));
    const mended = await openSculpt(file, { scale: 1, mend: [{ do: 'drop-specks', belowMm }] });
    expect(told(mended)).not.toContain('specks-far');
    const { min, max } = mended.boundsMm;
    expect(Math.max(...max.map((high, k) => high - min[k]))).toBeCloseTo(sizeMm, 3);
  });

  it('close by, or shells of some size, are not', async () => {
    expect(told(await sculptOf(joinMeshes([lumpySphere(1, 20), speck(25)])))).toEqual([]);
    expect(
      told(await sculptOf(joinMeshes([lumpySphere(1, 20), moved(lumpySphere(2, 8), [300, 0, 0])]))),
    ).toEqual([]);
  });

  it('are told of open figures too', async () => {
    const open = lumpySphere(1, 20);
    const holed = { ...open, triangles: open.triangles.slice(open.triangles.length / 4) };
    expect(told(await sculptOf(joinMeshes([holed, speck(300)])))).toContain('specks-far');
  });
});
