import type { FindingCode } from '../../src/check/finding.ts';
import { stillStanding } from '../../src/check/still-standing.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { loadKernel } from '../../src/kernel/load.ts';
import { joinMeshes } from '../../src/mend/bodies.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { openSculpt } from '../../src/pipeline/sculpt.ts';
import { jobOf, sculptOf } from '../support/job.ts';
import { asSource, obj } from '../support/mesh-files.ts';
import { box, fanned } from '../support/simple-solids.ts';
import type { CodeCase } from './code-case.ts';

type Corner = [number, number, number];

/** What is told of a block of 40 mm so far along X, cut through its middle. */
const cutAt = (x: number) => async () => {
  const file = asSource('figure.obj', obj(box([x, -20, -20], [x + 40, 20, 20])));
  const sculpt = await openSculpt(file, { scale: 1 });
  const job = jobOf([{ normal: [1, 0, 0], offsetMm: x + 20.3 }]);
  const { evaluation } = await createEvaluator(onlyHere(await loadKernel()), sculpt).evaluate(job);
  return evaluation.findings.map(({ code }) => code);
};

/** What is told on opening of boxes, each by two corners. */
const opened =
  (...boxes: [Corner, Corner][]) =>
  async () => {
    const sculpt = await sculptOf(joinMeshes(boxes.map(([min, max]) => fanned(box(min, max)))));
    return sculpt.findings.map(({ code }) => code);
  };

/** What is told of two boxes one above the other, cut above where they overlap or through it. */
const cutBoxes = (offsetMm: number) => async () => {
  const boxes = [box([0, 0, 0], [10, 10, 10]), box([2, 2, 6], [8, 8, 14])];
  const sculpt = await sculptOf(joinMeshes(boxes.map(fanned)));
  const job = jobOf([{ offsetMm }, { id: 'top', of: 'neck.front', offsetMm: 12 }]);
  const { evaluation } = await createEvaluator(onlyHere(await loadKernel()), sculpt).evaluate(job);
  const top = evaluation.parts.find(({ name }) => name === 'top back')?.name;
  return evaluation.findings.flatMap((found) =>
    found.code === 'overlap-unproved' && found.facts.part !== top ? [] : [found.code],
  );
};

/** What still stands of what opening told of three boxes in a row, each reaching into the next, some of them nested. */
const nestedBoxes =
  (...pairs: [front: string, back: string][]) =>
  async () => {
    const boxes = [box([0, 0, 0], [10, 10, 10]), box([8, 1, 1], [20, 9, 9]), box([18, 2, 2], [30, 8, 8])];
    const sculpt = await sculptOf(joinMeshes(boxes.map(fanned)));
    const job = jobOf(pairs.map((bodies, i) => ({ id: `join${i}`, bodies, nest: { gives: bodies[1] } })));
    const { evaluation } = await createEvaluator(onlyHere(await loadKernel()), sculpt).evaluate(job);
    return stillStanding(sculpt.findings, evaluation).map(({ code }) => code);
  };

export const FINDING_CASES: CodeCase<FindingCode>[] = [
  { code: 'parts-moved', comes: cutAt(100_000.1), stays: cutAt(100) },
  {
    code: 'shells-overlap',
    comes: opened(
      [
        [0, 0, 0],
        [10, 10, 10],
      ],
      [
        [9, 0, 0],
        [20, 10, 10],
      ],
    ),
    stays: opened(
      [
        [0, 0, 0],
        [10, 10, 10],
      ],
      [
        [10, 0, 0],
        [20, 10, 10],
      ],
    ),
  },
  {
    code: 'shells-overlap',
    comes: nestedBoxes(['2', '1']),
    stays: nestedBoxes(['2', '1'], ['3', 'join0.front']),
  },
  { code: 'overlap-unproved', comes: cutBoxes(8), stays: cutBoxes(11) },
  {
    code: 'specks-far',
    comes: opened(
      [
        [0, 0, 0],
        [40, 40, 40],
      ],
      [
        [90, 0, 0],
        [91, 1, 1],
      ],
    ),
    stays: opened(
      [
        [0, 0, 0],
        [40, 40, 40],
      ],
      [
        [45, 0, 0],
        [46, 1, 1],
      ],
    ),
  },
  {
    code: 'size-unlikely',
    comes: opened([
      [0, 0, 0],
      [0.4, 0.4, 0.4],
    ]),
    stays: opened([
      [0, 0, 0],
      [0.6, 0.6, 0.6],
    ]),
  },
  {
    code: 'coordinates-coarse',
    comes: opened([
      [200_000, 0, 0],
      [200_040, 40, 40],
    ]),
    stays: opened([
      [20_000, 0, 0],
      [20_040, 40, 40],
    ]),
  },
];
