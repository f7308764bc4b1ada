import type { FindingCode } from '../../src/check/finding.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { loadKernel } from '../../src/kernel/load.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { icosphere } from '../support/figures.ts';
import { jobOf, type PegInput, pegWith, type SeamInput, sculptOf } from '../support/job.ts';
import { box, fanned, hooked, legged, moved, together, torus } from '../support/simple-solids.ts';
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
const gaps = (sizes: Partial<PegInput>) => told(block, [pegWith(sizes)]);

/** What is told of a figure whose first two bodies are joined. */
const nested =
  (one: Mesh, other: Mesh, nest: SeamInput['nest'] = {}) =>
  async () => {
    const evaluator = createEvaluator(onlyHere(await loadKernel()), await sculptOf(together(one, other)));
    const job = jobOf([{ bodies: ['2', '1'], nest }]);
    return (await evaluator.evaluate(job)).evaluation.findings.map(({ code }) => code);
  };
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
  { code: 'gives-way', comes: nested(block, post(19)), stays: nested(block, post(20)) },
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
