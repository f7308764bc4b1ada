import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import type { SeatedJoint } from '../../src/pipeline/settled.ts';
import { lumpySphere, ring } from '../support/figures.ts';
import { jobOf, type PegInput, sculptOf } from '../support/job.ts';
import { box, fanned } from '../support/simple-solids.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const auto = (sizes: Partial<PegInput> = {}): PegInput => ({ kind: 'taper', at: 'auto', ...sizes });
const evaluatorOf = async (mesh: ReturnType<typeof ring>) =>
  createEvaluator(onlyHere(kernel), await sculptOf(mesh));
const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });

describe('pegs left to the engine', () => {
  it('never leave less wall than the process asks for, seed 101', async () => {
    const evaluators = await Promise.all(
      [lumpySphere(8, 18, 3, 0.3), lumpySphere(9, 9, 2, 0.2), ring()].map(evaluatorOf),
    );
    let seated = 0;
    await fc.assert(
      fc.asyncProperty(
        fc.nat(2),
        between(-4, 4),
        fc.tuple(between(-0.5, 0.5), between(-0.5, 0.5)),
        fc.integer({ min: 1, max: 4 }),
        between(0.5, 2.5),
        fc.constantFrom('front' as const, 'back' as const),
        async (figure, offsetMm, [x, y], count, minWallMm, pegOn) => {
          const pegs = Array.from({ length: count }, () => auto());
          const job = jobOf([{ normal: [x, y, 1], offsetMm, pegOn, pegs }], { minWallMm });
          const { seams, findings } = (await evaluators[figure].evaluate(job)).evaluation;
          const missing = findings.filter(({ code }) => code === 'no-peg-fits');
          // Those beyond are put on further faces.
          const asked = seams[0].joints.filter(({ index }) => index < count);
          expect(asked.length + missing.length).toBe(count);
          for (const { wallMm, way } of seams[0].joints) {
            expect(wallMm.min).toBeGreaterThan(minWallMm - 1e-5);
            expect(way).toBe('local');
            seated++;
          }
          const faults = findings.map(({ code }) => code);
          for (const code of ['peg-off-face', 'socket-breaks-skin', 'wall-thin', 'pegs-too-close'] as const) {
            expect(faults).not.toContain(code);
          }
        },
      ),
      { seed: 101, numRuns: 30 },
    );
    expect(seated).toBeGreaterThan(30);
  }, 60_000);

  it('are given up with the numbers that tell why on a section too thin', async () => {
    const evaluator = await evaluatorOf(fanned(box([-1.5, -1.5, -20], [1.5, 1.5, 20])));
    const { seams, findings } = (await evaluator.evaluate(jobOf([{ pegs: [auto()] }]))).evaluation;
    expect(seams[0].joints).toEqual([]);
    const [fault] = findings.filter(({ code }) => code === 'no-peg-fits');
    expect(fault).toMatchObject({
      severity: 'error',
      seamId: 'neck',
      pegIndex: 0,
      facts: { reason: 'room', minWallMm: 1.2 },
    });
    const facts = fault.facts as { bestWidthMm: number; neededWidthMm: number };
    expect(facts.bestWidthMm).toBeLessThan(facts.neededWidthMm);
  });

  it('keep clear of the pegs a person placed', async () => {
    const evaluator = await evaluatorOf(fanned(box([-20, -10, -20], [20, 10, 20])));
    const placed: PegInput = { kind: 'taper', at: [0, 0, 0], widthMm: 8, heightMm: 8 };
    const { seams, findings } = (await evaluator.evaluate(jobOf([{ pegs: [auto(), placed, auto()] }])))
      .evaluation;
    expect(seams[0].joints.map(({ index }) => index)).toEqual([0, 1, 2]);
    expect(findings.map(({ code }) => code)).not.toContain('pegs-too-close');
    for (const i of [0, 2])
      expect(Math.abs(seams[0].joints[i].settled.at[0])).toBeGreaterThan(
        4 + seams[0].joints[i].settled.widthMm / 2,
      );
  });

  it('take the sizes that are given and settle the rest', async () => {
    const evaluator = await evaluatorOf(fanned(box([-20, -20, -20], [20, 20, 20])));
    const { seams } = (
      await evaluator.evaluate(jobOf([{ pegs: [auto({ widthMm: 5, draftDeg: 3, endGapMm: 0.25 })] }]))
    ).evaluation;
    const [{ settled: peg }] = seams[0].joints;
    expect(peg).toMatchObject({ widthMm: 5, heightMm: 5, draftDeg: 3, endGapMm: 0.25, sideGapMm: 0.12 });
    expect(Math.hypot(peg.at[0], peg.at[1])).toBeLessThan(0.01);
  });
});

describe('pegs a person placed', () => {
  const sizes = {
    widthMm: 5.5,
    heightMm: 4.25,
    lengthMm: 6.125,
    draftDeg: 4.5,
    edgeRadiusMm: 0.55,
    spinDeg: 33,
    sideGapMm: 0.17,
    endGapMm: 0.31,
  };

  it('keep exactly the numbers given, also where they stand off the face', async () => {
    const evaluator = await evaluatorOf(lumpySphere(8, 18, 3, 0.3));
    for (const x of [0, 3, 22, 40]) {
      const pegs: PegInput[] = [{ kind: 'taper', at: [x, 1, 0], ...sizes }];
      const { seams, findings } = (await evaluator.evaluate(jobOf([{ pegs }]))).evaluation;
      const codes = findings.map(({ code }) => code);
      if (x < 10) {
        expect(seams[0].joints[0].settled).toMatchObject(sizes);
        expect(codes).not.toContain('peg-off-face');
        seams[0].joints[0].settled.at.forEach((v, k) => {
          expect(v).toBeCloseTo([x, 1, 0][k], 9);
        });
      } else {
        expect(codes).toContain('peg-off-face');
        for (const { settled } of seams[0].joints) expect(settled).toMatchObject(sizes);
      }
    }
  });

  it('are moved onto the face when they stand above or below it', async () => {
    const evaluator = await evaluatorOf(lumpySphere(8, 18, 3, 0.3));
    const { seams } = (
      await evaluator.evaluate(jobOf([{ offsetMm: 2, pegs: [{ kind: 'taper', at: [1, 1, 9], ...sizes }] }]))
    ).evaluation;
    expect(seams[0].joints[0].settled.at[2]).toBeCloseTo(2, 9);
  });

  it('are refused with the reason where their sizes contradict each other', async () => {
    const evaluator = await evaluatorOf(lumpySphere(8, 18, 3, 0.3));
    for (const [reason, change] of [
      ['edge-radius', { edgeRadiusMm: 2.2 }],
      ['draft', { draftDeg: 25 }],
      ['too-short', { lengthMm: 0.5 }],
    ] as const) {
      const pegs: PegInput[] = [{ kind: 'taper', at: [0, 0, 0], ...sizes, ...change }];
      const { seams, findings } = (await evaluator.evaluate(jobOf([{ pegs }]))).evaluation;
      expect(seams[0].joints).toEqual([]);
      expect(findings).toContainEqual(
        expect.objectContaining({
          code: 'peg-shape-impossible',
          facts: expect.objectContaining({ reason }),
          pegIndex: 0,
        }),
      );
    }
  });
});

const socketOf = ({ pieces }: SeatedJoint) => pieces.find(({ piece }) => piece.of.does === 'take')!;

describe('pegs that stay', () => {
  it('are not settled again when another moves, and are when the seam does', async () => {
    const evaluator = await evaluatorOf(lumpySphere(8, 18, 3, 0.3));
    const settled = async (x: number, offsetMm = 0, gapMm = 0.12) => {
      const pegs: PegInput[] = [
        { kind: 'taper', at: [x, -5, offsetMm], widthMm: 4 },
        { kind: 'taper', at: [0, 6, offsetMm], widthMm: 4 },
      ];
      return (await evaluator.evaluate(jobOf([{ offsetMm, pegs }], { sideGapMm: gapMm }))).tree.seams[0]
        .joints;
    };
    const before = await settled(0);
    const moved = await settled(0.5);
    expect(socketOf(moved[1]).seating).toBe(socketOf(before[1]).seating);
    expect(socketOf(moved[0]).seating).not.toBe(socketOf(before[0]).seating);
    expect(moved[0].settled.at[0]).toBe(0.5);
    // Moving it back measures what was measured first.
    expect(socketOf((await settled(0))[0]).seating).toEqual(socketOf(before[0]).seating);
    const wider = await settled(0, 0, 0.2);
    expect(socketOf(wider[1]).seating.wall.mm).toBeLessThan(socketOf(before[1]).seating.wall.mm);
    const cutElsewhere = await settled(0, 1);
    expect(socketOf(cutElsewhere[1]).host.part).not.toBe(socketOf(before[1]).host.part);
  });
});
