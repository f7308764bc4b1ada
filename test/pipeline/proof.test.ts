import { beforeAll, describe, expect, it } from 'vitest';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { proveSolid } from '../../src/kernel/prove.ts';
import { compactMesh } from '../../src/mesh/part/part.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { judgeProof, solidToProve } from '../../src/pipeline/proof.ts';
import { lumpySphere } from '../support/figures.ts';
import { jobOf, sculptOf } from '../support/job.ts';
import { proveParts } from '../support/prove-parts.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

async function finished() {
  const evaluator = createEvaluator(onlyHere(kernel), await sculptOf(lumpySphere(4, 18, 3, 0.2)));
  const pegs = [{ kind: 'taper' as const, at: [0, 0, 0] as const, widthMm: 5, heightMm: 5, lengthMm: 5 }];
  const { evaluation, tree } = await evaluator.evaluate(jobOf([{ pegs }]));
  return tree.parts.map(({ part }, i) => ({ part, result: evaluation.parts[i] }));
}

describe('a proof by the kernel', () => {
  it('agrees with finished parts', async () => {
    const told: number[] = [];
    const { proved, findings } = proveParts(kernel, await finished(), (done) => told.push(done));
    expect(proved).toEqual([true, true]);
    expect(findings).toEqual([]);
    expect(told).toEqual([0, 0.5]);
  });

  it('agrees with a part that two seams worked joints into, whose skin is in several runs', async () => {
    const evaluator = createEvaluator(onlyHere(kernel), await sculptOf(lumpySphere(8, 18, 4, 0.3)));
    const peg = (x: number, y: number, z: number) => ({
      kind: 'taper' as const,
      at: [x, y, z] as const,
      widthMm: 5,
    });
    let split = 0;
    for (let x = 8; x < 18; x += 0.9) {
      const job = jobOf([
        { id: 'low', offsetMm: -4, pegs: [peg(x, 0, -4), peg(x - 2, 2, -4)] },
        { id: 'high', of: 'low.front', offsetMm: 4, pegs: [peg(0, x, 4), peg(0, -3, 4)] },
      ]);
      const { evaluation, tree } = await evaluator.evaluate(job);
      const parts = tree.parts.map(({ part }, i) => ({ part, result: evaluation.parts[i] }));
      const { proved, findings } = proveParts(kernel, parts, () => {});
      expect([proved, findings], `pegs at ${x}`).toEqual([[true, true, true], []]);
      expect(evaluation.parts.every(({ closed }) => closed)).toBe(true);
      const runs = parts.map(({ part }) => part.patches.filter(({ of }) => of.kind === 'skin').length);
      if (Math.max(...runs) > 2) split++;
    }
    expect(split).toBeGreaterThan(0);
  });

  it('tells a part that lacks a triangle, and one whose volume was measured wrong', async () => {
    const [{ part, result }] = await finished();
    const whole = solidToProve(part);
    if (!whole) throw new Error('too big');
    const torn = compactMesh({ positions: whole.positions, triangles: whole.triangles.slice(3) });
    expect(judgeProof(result, proveSolid(kernel, torn))).toMatchObject({
      code: 'kernel-disagrees',
      severity: 'error',
      facts: { part: result.name, doubt: { is: 'not-manifold' } },
    });
    const proof = proveSolid(kernel, whole);
    expect(judgeProof(result, proof)).toBeNull();
    expect(judgeProof({ ...result, volumeMm3: result.volumeMm3 * 1.00001 }, proof)?.code).toBe(
      'kernel-disagrees',
    );
  });
});
