import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { meshOf } from '../../src/mesh/part/part.ts';
import type { Job } from '../../src/model/job.ts';
import { planeSeam } from '../../src/model/seam-spec.ts';
import { createEvaluator, type Evaluator } from '../../src/pipeline/evaluate.ts';
import { PROCESSES } from '../../src/process/cards.ts';
import { lumpySphere, overlapping } from '../support/figures.ts';
import { onSurface, samplesOn, trianglesOf } from '../support/independent-gap.ts';
import { jobOf, type PegInput, pegWith as peg, sculptOf } from '../support/job.ts';
import { isSound } from '../support/seam-fixture.ts';
import { box, fanned, moved, plainVolume } from '../support/simple-solids.ts';
import { trials } from '../support/sweep.ts';

let kernel: Kernel;
let block: Evaluator;
beforeAll(async () => {
  kernel = await loadKernel();
  block = createEvaluator(onlyHere(kernel), await sculptOf(fanned(box([-20, -20, -20], [20, 20, 20]))));
});

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const codesOf = async (evaluator: Evaluator, job: Job) =>
  (await evaluator.evaluate(job)).evaluation.findings.map(({ code }) => code);

/** Results of `work` one after the other, as an evaluator does them. */
async function inTurn<T, R>(items: readonly T[], work: (item: T) => Promise<R>): Promise<R[]> {
  const results: R[] = [];
  for (const item of items) results.push(await work(item));
  return results;
}

/** Why a peg or its socket is not whole in its part. */
const PEG_FAULTS = new Set(['peg-off-face', 'socket-breaks-skin', 'pegs-too-close']);

describe('an evaluation', () => {
  it('balances volumes and closes parts, whatever is edited, seed 111', async () => {
    const evaluator = createEvaluator(
      onlyHere(kernel),
      await sculptOf(moved(lumpySphere(8, 18, 3, 0.25), [300, -40, 12])),
    );
    await fc.assert(
      fc.asyncProperty(
        between(-3, 3),
        fc.tuple(between(-0.4, 0.4), between(-0.4, 0.4)),
        fc.array(fc.tuple(between(-9, 9), between(-9, 9), between(2, 5)), { maxLength: 3 }),
        fc.constantFrom('front' as const, 'back' as const),
        async (height, [nx, ny], places, pegOn) => {
          const length = Math.hypot(nx, ny, 1);
          const offsetMm = (300 * nx - 40 * ny + 12 + height) / length;
          const pegs = places.map(
            ([x, y, widthMm]): PegInput =>
              peg({ at: [300 + x, -40 + y, 12], widthMm, heightMm: widthMm, lengthMm: widthMm }),
          );
          const { evaluation, tree } = await evaluator.evaluate(
            jobOf([{ normal: [nx, ny, 1], offsetMm, pegOn, pegs }]),
          );
          expect(tree.parts.every(({ part }) => isSound(part))).toBe(true);
          evaluation.parts.forEach((part, i) => {
            expect(part.closed).toBe(true);
            const mesh = meshOf(tree.parts[i].part);
            expect(Math.abs(part.volumeMm3 - plainVolume(mesh))).toBeLessThan(1e-6 * part.volumeMm3);
          });
          const { sculptMm3, partsMm3, pegsMm3, socketsMm3, residualMm3 } = evaluation.volume;
          expect(residualMm3).toBeCloseTo(partsMm3 - (sculptMm3 + pegsMm3 - socketsMm3), 6);
          if (tree.seams[0].joints.every(({ way }) => way === 'local')) {
            expect(Math.abs(residualMm3)).toBeLessThan(1e-6 * sculptMm3);
          }
          const codes = evaluation.findings.map(({ code }) => code);
          // What is wrong with a peg may leave volumes unbalanced, and is told besides.
          const isOff = Math.abs(residualMm3) > 1e-6 * sculptMm3;
          expect(codes.includes('volume-unbalanced')).toBe(isOff);
          if (isOff) expect(codes.some((code) => PEG_FAULTS.has(code))).toBe(true);
          for (const { settled } of evaluation.seams[0].joints) {
            const onPlane = (settled.at[0] * nx + settled.at[1] * ny + settled.at[2]) / length;
            expect(onPlane).toBeCloseTo(offsetMm, 9);
          }
        },
      ),
      { seed: 111, numRuns: trials(60, 25), endOnFailure: true },
    );
  }, 60_000);

  it('answers the same after a round of edits as it did at first, and as a new evaluator does', async () => {
    const figure = lumpySphere(12, 16, 3, 0.3);
    const sculpt = await sculptOf(figure);
    const evaluator = createEvaluator(onlyHere(kernel), sculpt);
    const jobs = [
      jobOf([{ offsetMm: 1, pegs: [peg()] }]),
      jobOf([{ offsetMm: 1, pegs: [peg({ at: [2, 1, 1] })] }]),
      jobOf([{ offsetMm: 3, pegs: [peg({ at: [2, 1, 1] })], pegOn: 'front' }]),
      jobOf([
        { offsetMm: 3 },
        { id: 'second', of: 'neck.back', normal: [1, 0, 0], pegs: [peg({ at: 'auto' })] },
      ]),
    ];
    const told = async (at: Evaluator, job: Job) => {
      const { timingsMs: _, ...rest } = (await at.evaluate(job)).evaluation;
      return rest;
    };
    const first = await inTurn(jobs, (job) => told(evaluator, job));
    const back = await inTurn([...jobs].reverse(), (job) => told(evaluator, job));
    expect(back.reverse()).toEqual(first);
    expect(await inTurn(jobs, (job) => told(createEvaluator(onlyHere(kernel), sculpt), job))).toEqual(first);
  });

  it('tells in haste what is as true of the bed, and all of it once the hand rests', async () => {
    const sculpt = await sculptOf(lumpySphere(9, 40, 4, 0.3));
    const evaluator = createEvaluator(onlyHere(kernel), sculpt);
    const bedMm = [60, 62, 64] as const;
    const jobs = [0, 0.5, 1].map((x) =>
      jobOf([{ offsetMm: 10, pegs: [peg({ at: [x, 0, 10], lengthMm: 8 })] }], { bedMm }),
    );
    const bedsOf = async (at: Evaluator, job: Job, isHasty: boolean) =>
      (await at.evaluate(job, undefined, undefined, isHasty)).evaluation.parts.map(({ bed }) => bed);
    let loose = 0;
    for (const job of jobs) {
      const hasty = await bedsOf(evaluator, job, true);
      const whole = await bedsOf(evaluator, job, false);
      expect(whole.some(({ fits }) => fits === 'not')).toBe(true);
      expect(whole).toEqual(await bedsOf(createEvaluator(onlyHere(kernel), sculpt), job, false));
      whole.forEach((bed, i) => {
        // Either bound holds for the other's turn.
        expect(hasty[i].overMm - hasty[i].withinMm).toBeLessThanOrEqual(bed.overMm + 1e-9);
        expect(bed.overMm - bed.withinMm).toBeLessThanOrEqual(hasty[i].overMm + 1e-9);
        if (hasty[i].withinMm > bed.withinMm) loose++;
      });
      // Asked in haste again it has no less to tell.
      expect(await bedsOf(evaluator, job, true)).toEqual(whole);
    }
    expect(loose).toBeGreaterThan(0);
  });

  it('keeps what an edit does not touch', async () => {
    const [one, other] = await inTurn(
      [peg(), peg({ at: [4, 0, 0] })],
      async (p) => (await block.evaluate(jobOf([{ pegs: [p] }]))).tree,
    );
    expect(other.seams[0].cut.cut).toBe(one.seams[0].cut.cut);
    one.parts.forEach(({ part }, i) => {
      expect(other.parts[i].part.patches[0].triangles).toBe(part.patches[0].triangles);
    });
    const again = (await block.evaluate(jobOf([{ pegs: [peg({ at: [4, 0, 0] })] }]))).tree;
    expect(again.seams[0].joints[0].pieces[0].piece).toBe(other.seams[0].joints[0].pieces[0].piece);
  });

  it('says what is wrong with pegs that do not sit', async () => {
    expect(await codesOf(block, jobOf([{ pegs: [peg({ at: [19, 0, 0] })] }]))).toContain('peg-off-face');
    expect(await codesOf(block, jobOf([{ pegs: [peg({ lengthMm: 21, draftDeg: 1 })] }]))).toContain(
      'socket-breaks-skin',
    );
    expect(await codesOf(block, jobOf([{ pegs: [peg({ at: [16, 0, 0] })] }]))).toContain('wall-thin');
    expect(await codesOf(block, jobOf([{ pegs: [peg(), peg({ at: [4, 0, 0] })] }]))).toContain(
      'pegs-too-close',
    );
    expect(await codesOf(block, jobOf([{}]))).toEqual(['seam-without-peg']);
    expect(await codesOf(block, jobOf([{ pegs: [peg()] }], { bedMm: [30, 30, 30] }))).toContain(
      'part-outgrows-bed',
    );
  });

  it('takes no two pegs of which one stands within the other', async () => {
    for (const small of [
      peg({ widthMm: 2, heightMm: 2, lengthMm: 3 }),
      peg({ widthMm: 5.5, heightMm: 4.5, lengthMm: 3 }),
    ]) {
      for (const pegs of [
        [peg(), small],
        [small, peg()],
      ]) {
        expect(await codesOf(block, jobOf([{ pegs }]))).toContain('pegs-too-close');
      }
    }
  });

  it('finds nothing wrong with a sound joint: every process, edge, draft and gap', async () => {
    const told: string[] = [];
    for (const { process } of PROCESSES) {
      for (const edgeRadiusMm of [0, 0.1, 0.3, 0.8]) {
        for (const draftDeg of [0, 6, 12]) {
          for (const [sideGapMm, endGapMm] of [
            [process.sideGapMm, process.endGapMm],
            [0.3, 0.2],
            [0.12, 1.5],
          ]) {
            const pegs = [peg({ edgeRadiusMm, draftDeg, sideGapMm, endGapMm })];
            const codes = (await codesOf(block, jobOf([{ pegs }], process))).filter(
              (code) => code !== 'seats-more-than-one-way',
            );
            if (codes.length > 0)
              told.push(
                `${process.name}, edge ${edgeRadiusMm}, draft ${draftDeg}, gaps ${sideGapMm}/${endGapMm}: ${codes.join()}`,
              );
          }
        }
      }
    }
    expect(told).toEqual([]);
  });

  it('finds nothing wrong with a small peg of its own making', async () => {
    const limb = createEvaluator(
      onlyHere(kernel),
      await sculptOf(fanned(box([-2.6, -2.6, -20], [2.6, 2.6, 20]))),
    );
    expect(
      await codesOf(
        limb,
        jobOf([
          { pegs: [peg({ at: 'auto', widthMm: undefined, heightMm: undefined, lengthMm: undefined })] },
        ]),
      ),
    ).toEqual(['seats-more-than-one-way']);
  });

  it('measures the gap that samples of the finished parts have', async () => {
    const { evaluation, tree } = await block.evaluate(
      jobOf([{ normal: [0.2, 0.1, 1], pegs: [peg({ spinDeg: 20 })] }]),
    );
    const [{ sideGapMm, endGapMm, axis, settled }] = evaluation.seams[0].joints;
    const surfaceOf = (does: 'add' | 'take') => {
      const host = tree.parts.find(({ part }) =>
        part.patches.some(({ of }) => of.kind === 'joint' && of.does === does),
      );
      if (!host) throw new Error('no joint');
      const mesh = meshOf(host.part, (of) => of.kind === 'joint');
      return trianglesOf(mesh.positions, mesh.triangles);
    };
    const socket = surfaceOf('take');
    const heights = samplesOn(surfaceOf('add'), 1).map((p) => ({
      up: p.reduce((sum, v, k) => sum + (v - settled.at[k]) * axis[k], 0),
      gap: onSurface(p, socket).distance,
    }));
    const side = heights.filter(({ up }) => up < 5).map(({ gap }) => gap);
    expect(Math.min(...side)).toBeGreaterThan(sideGapMm!.min - 1e-3);
    expect(Math.max(...side)).toBeLessThan(sideGapMm!.max + 1e-3);
    const end = heights.filter(({ up }) => up > 6 - 1e-6).map(({ gap }) => gap);
    expect(end.length).toBeGreaterThan(0);
    expect(Math.max(...end)).toBeLessThan(endGapMm!.max + 1e-3);
    expect(Math.abs(endGapMm!.max - 0.4)).toBeLessThan(1e-3);
  });

  it('leaves no mark on the skin where the kernel joins a peg that stands inside its face', async () => {
    // The lower pegs crowd each other, so all go to the kernel; behind the face the skin leans inward.
    const cone = fanned({
      vertices: [
        [-5, -5, -20],
        [5, -5, -20],
        [5, 5, -20],
        [-5, 5, -20],
        [-12, -12, 0],
        [12, -12, 0],
        [12, 12, 0],
        [-12, 12, 0],
        [-12, -12, 20],
        [12, -12, 20],
        [12, 12, 20],
        [-12, 12, 20],
      ],
      faces: [
        [3, 2, 1, 0],
        ...[0, 4].flatMap((low) =>
          [0, 1, 2, 3].map((k) => [low + k, low + ((k + 1) % 4), low + 4 + ((k + 1) % 4), low + 4 + k]),
        ),
        [8, 9, 10, 11],
      ],
    });
    const evaluator = createEvaluator(onlyHere(kernel), await sculptOf(cone));
    const pegs = [peg({ at: [9, 0, 0], widthMm: 5.9 }), peg({ at: [4, 0, 0], widthMm: 5 })];
    const { evaluation, tree } = await evaluator.evaluate(jobOf([{ offsetMm: -0.01, pegs }]));
    expect(evaluation.seams[0].joints.map(({ way }) => way)).toEqual(['collar', 'collar']);
    const back = tree.parts.find(({ plain }) => plain.id === 'neck.back');
    if (!back) throw new Error('no back part');
    const mesh = meshOf(back.part);
    // Below the face nothing may lie outside the cone's planes |x|, |y| ≤ 12 + 0.35 z.
    let outside = 0;
    for (const v of mesh.triangles) {
      const [x, y, z] = mesh.positions.subarray(v * 3, v * 3 + 3);
      if (z < -0.05) outside = Math.max(outside, Math.abs(x) - 12 - 0.35 * z, Math.abs(y) - 12 - 0.35 * z);
    }
    expect(outside).toBeLessThan(1e-4);
  });

  it('closes parts of overlapping shells, by the kernel', async () => {
    const evaluator = createEvaluator(onlyHere(kernel), await sculptOf(overlapping(3)));
    const { evaluation, tree } = await evaluator.evaluate(
      jobOf([{ pegs: [peg({ widthMm: 4, heightMm: 4, lengthMm: 3 })] }]),
    );
    expect(evaluation.seams[0].way).toBe('kernel');
    expect(tree.parts.every(({ part }) => isSound(part))).toBe(true);
  });

  it('draws where a plane would cut, as the cut then has it', async () => {
    const plane = planeSeam([0, 0.6, 0.8], 3);
    const [outline] = block.outline('neck', plane);
    const [seam] = (await block.evaluate(jobOf([{ normal: plane.normal, offsetMm: plane.offsetMm }])))
      .evaluation.seams;
    expect(outline.areaMm2).toBeCloseTo(seam.areaMm2, 6);
    expect(outline.perimeterMm).toBeCloseTo(seam.facets[0].perimeterMm, 6);
    expect(outline.frame).toEqual(seam.facets[0].frame);
    expect(block.outline('neck', planeSeam([0, 0, 1], 99))[0].outlines).toEqual([]);
  });
});
