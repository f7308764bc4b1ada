import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { buildHeron } from '../../src/demo/heron.ts';
import { writeStlBinary } from '../../src/io/stl/write.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { loadKernel } from '../../src/kernel/load.ts';
import { meshOf, type Part } from '../../src/mesh/part/part.ts';
import type { Job } from '../../src/model/job.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { jobOf, sculptOf } from '../support/job.ts';
import { faultyEdges } from '../support/outline-judge.ts';
import { plainVolume } from '../support/simple-solids.ts';
import { SIX_SEAMS } from '../support/six-seams.ts';

const digest = (part: Part): string =>
  createHash('sha256')
    .update(writeStlBinary(meshOf(part), [0, 0, 0]))
    .digest('hex');

describe('the demo figure by six seams of three kinds', async () => {
  const kernel = await loadKernel();
  const sculpt = await sculptOf(buildHeron({ triangles: 20_000 }));
  const evaluator = createEvaluator(onlyHere(kernel), sculpt);
  const whole = jobOf(SIX_SEAMS);

  it('comes in seven closed parts that sum to it', async () => {
    const { evaluation, tree } = await evaluator.evaluate(whole);
    expect(evaluation.parts.length).toBe(7);
    expect(tree.parts.map(({ part }) => faultyEdges(meshOf(part)))).toEqual(
      Array.from({ length: 7 }, () => 0),
    );
    expect(evaluation.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
    const sum = tree.parts.reduce((total, { part }) => total + plainVolume(meshOf(part)), 0);
    const joints = evaluation.seams.flatMap((seam) => seam.joints);
    const added = joints.reduce((total, { addedMm3, takenMm3 }) => total + addedMm3 - takenMm3, 0);
    const volume = plainVolume(sculpt.mesh);
    expect(Math.abs(sum - added - volume) / volume).toBeLessThan(1e-6);
    expect(evaluation.seams.map(({ joints: here }) => here.length > 0)).toEqual([
      false,
      true,
      true,
      false,
      true,
      true,
    ]);
  });

  it('comes out the same, to the byte, whichever seams were taken away and put back', async () => {
    const partsOf = async (job: Job, of = evaluator) =>
      (await of.evaluate(job)).tree.parts.map(({ part }) => digest(part));
    const fresh = await partsOf(whole, createEvaluator(onlyHere(kernel), sculpt));
    for (const gone of [1, 2, 5]) {
      const seams = whole.seams.filter((seam) => !seam.id.startsWith(SIX_SEAMS[gone].id ?? ''));
      const left = { ...whole, seams: gone === 5 ? seams : whole.seams.slice(0, gone) };
      expect(await partsOf(left)).toEqual(await partsOf(left, createEvaluator(onlyHere(kernel), sculpt)));
      expect(await partsOf(whole)).toEqual(fresh);
    }
  });
});
