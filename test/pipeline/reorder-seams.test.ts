import { beforeAll, describe, expect, it } from 'vitest';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import type { Job } from '../../src/model/job.ts';
import { throughOf } from '../../src/model/seam-spec.ts';
import { createEvaluator, type Evaluator } from '../../src/pipeline/evaluate.ts';
import { jobOf, pegWith, type SeamInput, sculptOf } from '../support/job.ts';
import { box, fanned, legged, torus } from '../support/simple-solids.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const evaluatorOf = async (mesh: Mesh) => createEvaluator(onlyHere(kernel), await sculptOf(mesh), 'wait');
const column = () => evaluatorOf(fanned(box([-10, -10, -30], [10, 10, 30])));

/** Names and volumes of the parts that a job makes, in order of their names. */
async function partsOf(evaluator: Evaluator, job: Job) {
  const { evaluation } = await evaluator.evaluate(job);
  const parts = evaluation.parts.map(({ name, volumeMm3 }) => [name, Math.round(volumeMm3 * 100) / 100]);
  return Object.fromEntries(parts.sort());
}

const LOW: SeamInput = { id: 'low', offsetMm: -10, pegs: [pegWith({ at: [0, 0, -10] })] };
const HIGH: SeamInput = { id: 'high', of: 'low.front', offsetMm: 12, pegs: [pegWith({ at: [0, 0, 12] })] };

describe('a seam moved a place in the order', () => {
  it('is given the whole part where its plane does not meet the other’s, and every part is what it was', async () => {
    const evaluator = await column();
    const side: SeamInput = { id: 'side', of: 'high.back', normal: [1, 0, 0] };
    const job = jobOf([LOW, HIGH, side]);
    const { seams, renamed } = evaluator.reorder(job, 'high', 'earlier');
    expect(seams.map(({ id, of }) => [id, of])).toEqual([
      ['high', 'sculpt'],
      ['low', 'high.back'],
      ['side', 'low.front'],
    ]);
    expect(renamed).toEqual({ was: 'high.back', is: 'low.front' });
    expect(seams.map(({ joints }) => joints)).toEqual([1, 0, 2].map((i) => job.seams[i].joints));
    expect(await partsOf(evaluator, { ...job, seams })).toEqual(await partsOf(evaluator, job));
  });

  it('keeps the names of parts where they lie, and comes back as it was', async () => {
    const evaluator = await column();
    const job = jobOf([LOW, HIGH]);
    const before = await partsOf(evaluator, job);
    expect(Object.keys(before)).toEqual(['high back', 'high front', 'low back']);
    const there = { ...job, seams: evaluator.reorder(job, 'low', 'later').seams };
    expect(await partsOf(evaluator, there)).toEqual(before);
    expect(evaluator.reorder(there, 'low', 'earlier').seams).toEqual(job.seams);
  });

  it('changes nothing but the order beside a seam of another part', async () => {
    const evaluator = await column();
    const under: SeamInput = { id: 'under', of: 'low.back', offsetMm: -20 };
    const job = jobOf([LOW, HIGH, under]);
    const { seams, renamed } = evaluator.reorder(job, 'under', 'earlier');
    expect([seams, renamed]).toEqual([[0, 2, 1].map((i) => job.seams[i]), null]);
    expect(await partsOf(evaluator, { ...job, seams })).toEqual(await partsOf(evaluator, job));
  });

  it('stays where it would cut more of the whole, with the part it would cut', async () => {
    const evaluator = await column();
    const job = jobOf([LOW, { id: 'side', of: 'low.front', normal: [1, 0, 0] }]);
    for (const [seamId, step] of [
      ['side', 'earlier'],
      ['low', 'later'],
    ] as const) {
      const past = seamId === 'side' ? 'low' : 'side';
      expect(() => evaluator.reorder(job, seamId, step)).toThrow(
        expect.objectContaining({
          code: 'seam-order-fixed',
          facts: { seamId, past, why: { is: 'cuts-more', seamId: 'side', part: 'low back' } },
        }),
      );
    }
  });

  it('keeps to its own outlines where its plane meets others of the whole', async () => {
    const evaluator = await evaluatorOf(legged());
    const job = jobOf([
      { id: 'middle', normal: [1, 0, 0], offsetMm: 0 },
      { id: 'leg', of: 'middle.front', offsetMm: -8 },
    ]);
    const { seams } = evaluator.reorder(job, 'leg', 'earlier');
    expect(seams.map(({ id, of, by }) => [id, of, throughOf(by)?.length ?? null])).toEqual([
      ['leg', 'sculpt', 1],
      ['middle', 'leg.front', null],
    ]);
    expect(await partsOf(evaluator, { ...job, seams })).toEqual(await partsOf(evaluator, job));
  });

  it('stays where made first it would free nothing', async () => {
    const evaluator = await evaluatorOf(torus(20, 5, 24, 12));
    const job = jobOf([
      { id: 'halves', normal: [1, 0, 0] },
      { id: 'quarter', of: 'halves.front', normal: [0, 1, 0], through: [[20, 0, 5]] },
    ]);
    expect(() => evaluator.reorder(job, 'quarter', 'earlier')).toThrow(
      expect.objectContaining({
        facts: expect.objectContaining({ why: { is: 'parts-otherwise', seamId: 'quarter' } }),
      }),
    );
  });

  it('takes no other seam’s part, and wakes one that waits for what comes later', async () => {
    const evaluator = await column();
    const rival = jobOf([LOW, { id: 'late', offsetMm: 5 }]);
    expect(() => evaluator.reorder(rival, 'late', 'earlier')).toThrow(
      expect.objectContaining({
        facts: { seamId: 'late', past: 'low', why: { is: 'loses-part', seamId: 'low' } },
      }),
    );
    const early = jobOf([HIGH, LOW]);
    const { seams } = evaluator.reorder(early, 'high', 'later');
    expect(seams).toEqual(jobOf([LOW, HIGH]).seams);
    expect(Object.keys(await partsOf(evaluator, { ...early, seams }))).toHaveLength(3);
  });

  it('goes nowhere from the ends', async () => {
    const evaluator = await column();
    const job = jobOf([LOW, HIGH]);
    expect(evaluator.reorder(job, 'low', 'earlier')).toEqual({ seams: job.seams, renamed: null });
    expect(evaluator.reorder(job, 'high', 'later')).toEqual({ seams: job.seams, renamed: null });
  });
});
