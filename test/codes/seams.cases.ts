import type { FindingCode } from '../../src/check/finding.ts';
import { type ErrorCode, toErrorRecord } from '../../src/errors.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { loadKernel } from '../../src/kernel/load.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { icosphere } from '../support/figures.ts';
import { jobOf, type PegInput, pegWith, type SeamInput, sculptOf } from '../support/job.ts';
import { arc, turnedSolid } from '../support/lathe.ts';
import { armed, box, fanned, hooked, legged, moved, together, torus } from '../support/simple-solids.ts';
import type { CodeCase } from './code-case.ts';

/** What is told of a figure that one level seam divides. */
const told =
  (figure: Mesh, pegs: PegInput[], offsetMm = 0) =>
  async () => {
    const evaluator = createEvaluator(onlyHere(await loadKernel()), await sculptOf(figure));
    return (await evaluator.evaluate(jobOf([{ offsetMm, pegs }]))).evaluation.findings.map(
      ({ code }) => code,
    );
  };

const block = fanned(box([-20, -20, -20], [20, 20, 20]));
const apart = together(fanned(box([-9, -9, -20], [9, 9, -2])), fanned(box([-9, -9, 2], [9, 9, 20])));
const onOneLeg = pegWith({ at: [-25, 0, -8], widthMm: 4, heightMm: 4, lengthMm: 4 });
const auto: PegInput = { kind: 'taper', at: 'auto' };
/** What is told of a figure whose left leg alone is cut. */
const bounded = (figure: Mesh, offsetMm: number) => async () => {
  const evaluator = createEvaluator(onlyHere(await loadKernel()), await sculptOf(figure));
  const job = jobOf([{ offsetMm, through: [[-25, 0, offsetMm]], pegs: [auto] }]);
  return (await evaluator.evaluate(job)).evaluation.findings.map(({ code }) => code);
};
/** What is told of a block that a line divides, flat along x but for its middle, which runs from x = −4 to 4 on top of a rise of 8. */
const swept = (footMm: number, pegs: PegInput[]) => async () => {
  const evaluator = createEvaluator(onlyHere(await loadKernel()), await sculptOf(block));
  const line = [-20, -footMm, -6, 6, footMm, 20].map((x, i): [number, number, number] => [
    x,
    0,
    i === 2 || i === 3 ? 8 : 0,
  ]);
  return (await evaluator.evaluate(jobOf([{ line, pegs }]))).evaluation.findings.map(({ code }) => code);
};
/** What is told of a block divided by an arch, with or without a flat on top of it. */
const bent = (flats: { at: [number, number, number]; widthMm: number }[]) => async () => {
  const evaluator = createEvaluator(onlyHere(await loadKernel()), await sculptOf(block));
  const line = [-20, -10, 0, 10, 20].map((x): [number, number, number] => [x, 0, 6 - (x * x) / 80]);
  const job = jobOf([{ line, runs: 'smooth', flats, pegs: [auto] }]);
  return (await evaluator.evaluate(job)).evaluation.findings.map(({ code }) => code);
};
const gaps = (sizes: Partial<PegInput>) => told(block, [pegWith(sizes)]);

/** What is told of a figure whose first two bodies are joined. */
const nested =
  (one: Mesh, other: Mesh, nest: SeamInput['nest'] = {}) =>
  async () => {
    const evaluator = createEvaluator(onlyHere(await loadKernel()), await sculptOf(together(one, other)));
    const job = jobOf([{ bodies: ['2', '1'], nest }]);
    return (await evaluator.evaluate(job)).evaluation.findings.map(({ code }) => code);
  };
/** What is told of a ball in a bowl of its own radius, 10 mm, with a flat across at a height of z. */
const cupped = (z: number) =>
  nested(
    fanned(turnedSolid([[0, -14], [14, -14], [14, 0], ...arc(10.04, 90, 180, 16)], 48)),
    fanned(turnedSolid(arc(10, 180, 0, 46), 60)),
    { flat: { at: [0, 0, z], normal: [0, 0, 1] } },
  );
const post = (bottom: number) => fanned(box([-5, -5, bottom], [5, 5, 40]));
const ball = moved({ ...icosphere(2), positions: icosphere(2).positions.map((v) => v * 6) }, [0, 0, 21]);

/** A pyramid that hangs into the block, its tip not under its middle. */
const spike = fanned({
  vertices: [
    [4, 2, 5],
    [-6, -6, 30],
    [6, -6, 30],
    [6, 6, 36],
    [-6, 3, 30],
  ],
  faces: [
    [1, 2, 3],
    [1, 3, 4],
    [0, 2, 1],
    [0, 3, 2],
    [0, 4, 3],
    [0, 1, 4],
  ],
});

export const FINDING_CASES: CodeCase<FindingCode>[] = [
  { code: 'seam-without-face', comes: told(apart, [auto]), stays: told(apart, [auto], 5) },
  {
    code: 'face-without-peg',
    comes: told(legged(), [onOneLeg], -8),
    stays: told(legged(), [onOneLeg, auto], -8),
  },
  { code: 'part-in-pieces', comes: told(legged(), [auto], -8), stays: told(torus(20, 5, 48, 24), [auto]) },
  { code: 'draw-blocked', comes: bounded(hooked(), -15), stays: bounded(legged(), -15) },
  { code: 'seam-all-bent', comes: bent([]), stays: bent([{ at: [0, 0, 6], widthMm: 12 }]) },
  { code: 'draw-sideways', comes: swept(5.9, []), stays: swept(6.1, []) },
  { code: 'draw-locked', comes: swept(4, [auto]), stays: swept(6.1, [auto]) },
  { code: 'gives-way', comes: nested(block, post(19)), stays: nested(block, post(20)) },
  { code: 'flat-hands-over', comes: cupped(-7), stays: cupped(-14.1) },
  { code: 'nest-without-flat', comes: nested(block, ball), stays: nested(block, post(19)) },
  {
    code: 'nest-gap-not-met',
    // Its four sides are unlike: no corner is as far from all of them.
    comes: nested(block, spike, { nestGapMm: 1, rimMm: 0 }),
    stays: nested(block, fanned(box([-5, -5, 15], [5, 5, 40])), { nestGapMm: 0.1, rimMm: 0 }),
  },
  { code: 'clearance-missing', comes: gaps({ sideGapMm: 0.009 }), stays: gaps({ sideGapMm: 0.01 }) },
  { code: 'clearance-small', comes: gaps({ endGapMm: 0.049 }), stays: gaps({ endGapMm: 0.05 }) },
  { code: 'clearance-large', comes: gaps({ sideGapMm: 0.61 }), stays: gaps({ sideGapMm: 0.6 }) },
];

/** Why the first of some seams has no mirror image across the middle of a figure, if it has none. */
const mirrored =
  (figure: Mesh, ...seams: SeamInput[]) =>
  async () => {
    const evaluator = createEvaluator(onlyHere(await loadKernel()), await sculptOf(figure));
    const job = jobOf(seams);
    try {
      evaluator.mirrored(job, job.seams[0].id, { normal: [1, 0, 0], offsetMm: 0 });
      return [];
    } catch (thrown) {
      return [toErrorRecord(thrown).code];
    }
  };

/** Two blocks, one on the other. */
const stacked = together(fanned(box([-9, -9, 0], [9, 9, 10])), fanned(box([-7, -7, 10], [7, 7, 20])));
/** Most of it lies to the right. */
const lopsided = fanned(box([-5, -9, -9], [40, 9, 9]));
const arm = (x: number): SeamInput => ({ id: `arm${x}`, normal: [1, 0, 0], offsetMm: x });

export const REFUSAL_CASES: CodeCase<ErrorCode>[] = [
  {
    code: 'seam-not-mirrored',
    comes: mirrored(stacked, { bodies: ['1', '2'] }),
    stays: mirrored(stacked, { of: 'body:1', normal: [1, 0, 0], offsetMm: 5 }),
  },
  {
    code: 'mirror-on-seam',
    comes: mirrored(armed(), arm(20), { ...arm(-20), of: 'arm20.back' }),
    stays: mirrored(armed(), arm(20), { ...arm(-21), of: 'arm20.back' }),
  },
  {
    code: 'mirror-misses',
    comes: mirrored(lopsided, arm(30)),
    stays: mirrored(lopsided, arm(3)),
  },
];
