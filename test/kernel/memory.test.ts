import { describe, expect, it } from 'vitest';
import { makeRandom } from '../../src/demo/prng.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { loadKernel } from '../../src/kernel/load.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { lumpySphere } from '../support/figures.ts';
import { jobOf, sculptOf } from '../support/job.ts';
import { watchKernelMemory } from '../support/kernel-memory.ts';
import { moved, together } from '../support/simple-solids.ts';

const memory = watchKernelMemory();

describe("the kernel's memory", () => {
  it('does not grow from edit 50 to edit 200, seed 17', async () => {
    // A second shell runs into the first one's flank, so that low seams are cut by the kernel.
    const mesh = together(lumpySphere(17, 22, 3, 0.2), moved(lumpySphere(18, 8, 2), [17, 0, -9]));
    const evaluator = createEvaluator(onlyHere(await loadKernel()), await sculptOf(mesh));
    const random = makeRandom(17);
    const ways = { cut: new Map<string, number>(), joint: new Map<string, number>() };
    const count = (of: Map<string, number>, way: string) => of.set(way, (of.get(way) ?? 0) + 1);
    let offsetMm = 3;
    let settled = 0;
    for (let edit = 1; edit <= 200; edit++) {
      if (edit % 4 === 0) offsetMm = edit % 20 === 0 ? -8 - random() : 3 + 4 * random();
      const width = 3 + 3 * random();
      // Every third peg stands so near the outline that it is the kernel's.
      const x = edit % 3 === 0 ? 21 : 4 * (random() - 0.5);
      const pegs = [
        {
          kind: 'taper' as const,
          at: [x, 4 * (random() - 0.5), offsetMm] as const,
          widthMm: width,
          lengthMm: 5,
        },
      ];
      const { evaluation } = await evaluator.evaluate(jobOf([{ offsetMm, pegs }]));
      const [seam] = evaluation.seams;
      count(ways.cut, seam.way);
      for (const peg of seam.joints) count(ways.joint, peg.way);
      if (edit === 50) settled = memory.bytes();
    }
    expect(memory.bytes()).toBe(settled);
    expect(ways.cut.get('kernel')).toBeGreaterThan(10);
    expect(ways.cut.get('local')).toBeGreaterThan(100);
    expect(ways.joint.get('collar')).toBeGreaterThan(20);
    expect(ways.joint.get('local')).toBeGreaterThan(80);
  }, 120_000);

  it('is seen to grow when solids are kept', async () => {
    const kernel = await loadKernel();
    const before = memory.bytes();
    const kept = Array.from({ length: 60 }, () => kernel.Manifold.sphere(10, 64));
    for (const solid of kept) expect(solid.numTri()).toBeGreaterThan(1_000);
    expect(memory.bytes()).toBeGreaterThan(before);
    for (const solid of kept) solid.delete();
  });
});
