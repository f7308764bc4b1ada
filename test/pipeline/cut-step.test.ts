import { beforeAll, describe, expect, it } from 'vitest';
import { PegwrightError } from '../../src/errors.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import type { Job } from '../../src/model/job.ts';
import { bareName } from '../../src/model/part-ref.ts';
import { type CutCache, cutStep, wholePart } from '../../src/pipeline/cut-step.ts';
import type { Sculpt } from '../../src/pipeline/sculpt.ts';
import { icosphere } from '../support/figures.ts';
import { jobOf, sculptOf } from '../support/job.ts';
import { isSound, volumeOf } from '../support/seam-fixture.ts';
import { box, fanned } from '../support/simple-solids.ts';

let kernel: Kernel;
let sculpt: Sculpt;
beforeAll(async () => {
  kernel = await loadKernel();
  sculpt = await sculptOf(fanned(box([-10, -10, -30], [10, 10, 30])));
});

const stepper = (of = sculpt) => {
  const cache: CutCache = new Map();
  const whole = wholePart(of);
  const progress: number[] = [];
  return {
    progress,
    run: (job: Job) => cutStep(kernel, job, of, whole, cache, (done) => progress.push(done)),
  };
};

const THREE = [
  { id: 'low', offsetMm: -10 },
  { id: 'high', of: 'low.front', offsetMm: 12 },
  { id: 'side', of: 'high.back', normal: [1, 0, 0] as const, offsetMm: 0 },
];

describe('the cut step', () => {
  it('applies seams to the parts that earlier ones made', () => {
    const { run, progress } = stepper();
    const { parts } = run(jobOf(THREE));
    const table = parts.map(({ id, name, part }) => [id, name, Math.round(volumeOf(part))]);
    expect(table.sort()).toEqual([
      ['high.front', 'high front', 20 * 20 * 18],
      ['low.back', 'low back', 20 * 20 * 20],
      ['side.back', 'side back', 10 * 20 * 22],
      ['side.front', 'side front', 10 * 20 * 22],
    ]);
    expect(parts.every(({ part }) => isSound(part))).toBe(true);
    expect(Object.fromEntries(parts.find(({ id }) => id === 'side.back')?.sides ?? [])).toEqual({
      low: 'front',
      high: 'back',
      side: 'back',
    });
    expect(progress).toEqual([0, 1 / 3, 2 / 3]);
  });

  it('answers the sculpt itself where there is no seam', () => {
    const { parts, seams } = stepper().run(jobOf([]));
    expect(seams).toEqual([]);
    expect(parts.map(({ id, name }) => [id, name])).toEqual([['sculpt', 'figure']]);
    expect(parts[0].part.positions).toBe(sculpt.mesh.positions);
  });

  it('cuts again only what an edit has changed, and what comes after it', () => {
    const { run } = stepper();
    const first = run(jobOf(THREE)).seams;
    const again = run(jobOf(THREE.map((seam) => ({ ...seam, pegOn: 'front' as const })))).seams;
    expect(again.map(({ cut }, i) => cut === first[i].cut)).toEqual([true, true, true]);
    const middle = run(
      jobOf(THREE.map((seam) => (seam.id === 'high' ? { ...seam, offsetMm: 13 } : seam))),
    ).seams;
    expect(middle.map(({ cut }, i) => cut === first[i].cut)).toEqual([true, false, false]);
    const last = run(
      jobOf(THREE.map((seam) => (seam.id === 'low' ? { ...seam, offsetMm: -11 } : seam))),
    ).seams;
    expect(last.map(({ cut }, i) => cut === middle[i].cut)).toEqual([false, false, false]);
    // A seam that was taken out and put back is cut anew, and right.
    run(jobOf([]));
    expect(run(jobOf(THREE)).seams.map(({ cut }, i) => cut === first[i].cut)).toEqual([false, false, false]);
  });

  it('keeps what comes out the same though an earlier seam moved', async () => {
    const sphere = icosphere(4);
    const ball = await sculptOf({ ...sphere, positions: sphere.positions.map((v) => v * 30) });
    const STEPS = [
      { id: 'low', offsetMm: -10 },
      { id: 'high', of: 'low.front', offsetMm: 2 },
      { id: 'top', of: 'high.front', offsetMm: 12 },
    ];
    const moved = STEPS.map((seam) => (seam.id === 'low' ? { ...seam, offsetMm: -11 } : seam));
    const { run } = stepper(ball);
    const first = run(jobOf(STEPS));
    const second = run(jobOf(moved));
    const same = second.parts.map(({ id, part }) => [id, first.parts.some((other) => other.part === part)]);
    expect(Object.fromEntries(same)).toEqual({
      'low.back': false,
      'high.back': false,
      'top.back': true,
      'top.front': true,
    });
    expect(second.seams.map(({ cut }, i) => cut === first.seams[i].cut)).toEqual([false, false, true]);
    expect(second.parts).toEqual(stepper(ball).run(jobOf(moved)).parts);
  });

  const codeOf = (work: () => unknown): unknown => {
    try {
      work();
    } catch (thrown) {
      return thrown instanceof PegwrightError ? [thrown.code, thrown.facts] : thrown;
    }
    return 'nothing thrown';
  };

  it('refuses a seam that misses, or that only touches', () => {
    for (const offsetMm of [31, 30, -30, -31, 1000]) {
      expect(codeOf(() => stepper().run(jobOf([{ offsetMm }])))).toEqual(['seam-misses', { seamId: 'neck' }]);
    }
    expect(
      codeOf(() => stepper().run(jobOf([{ id: 'a' }, { id: 'b', of: 'a.front', offsetMm: -5 }]))),
    ).toEqual(['seam-misses', { seamId: 'b' }]);
  });

  it('refuses a seam of a part there is not, or no longer', () => {
    for (const seams of [
      [{ id: 'a', of: 'b.front' }],
      [{ id: 'a' }, { id: 'b' }],
      [{ id: 'a' }, { id: 'b', of: 'a.front', offsetMm: 4 }, { id: 'c', of: 'a.front', offsetMm: 8 }],
    ]) {
      const last = seams[seams.length - 1];
      expect(codeOf(() => stepper().run(jobOf(seams)))).toEqual([
        'seam-part-unknown',
        expect.objectContaining({ seamId: last.id, of: last.of ?? 'sculpt' }),
      ]);
    }
  });

  it('names the undivided sculpt after its file', () => {
    expect(['heron.stl', 'a/b\\heron.ply.gz', 'heron', '.stl', ''].map(bareName)).toEqual([
      'heron',
      'heron',
      'heron',
      'part',
      'part',
    ]);
  });
});
