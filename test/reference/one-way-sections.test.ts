import { beforeAll, describe, expect, it } from 'vitest';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { scoped } from '../../src/kernel/scope.ts';
import { meshOf } from '../../src/mesh/part/part.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { jobOf, type PegInput, sculptOf } from '../support/job.ts';
import { box, fanned } from '../support/simple-solids.ts';
import { solidOf } from '../support/symmetric-difference.ts';

/**
 * In how many ways pegs of every section go in, as the kernel has it: the pegged half is turned about the middle of the
 * pegs, and where it meets the other half by more than rounding it does not go in.
 */

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

type Point = readonly [number, number];
/** Sharp at their edges, so that a wrong seating meets by much. */
const sizes = { lengthMm: 4, draftDeg: 4, edgeRadiusMm: 0.2 };
const own = (outlineMm: readonly Point[], [x, y]: Point = [0, 0], spinDeg = 0): PegInput =>
  ({ kind: 'outline', at: [x, y, 0], outlineMm, spinDeg, ...sizes }) as unknown as PegInput;
const peg = (kind: string, own: object, [x, y]: Point = [0, 0], spinDeg = 0): PegInput => ({
  kind,
  at: [x, y, 0],
  ...sizes,
  ...(kind !== 'round' && { spinDeg }),
  ...own,
});
const around = (n: number, radius: (k: number) => number): Point[] =>
  Array.from({ length: n }, (_, k) => [
    radius(k) * Math.cos((2 * Math.PI * k) / n),
    radius(k) * Math.sin((2 * Math.PI * k) / n),
  ]);

const d = { diameterMm: 7, flatMm: 2 };
const bar = { widthMm: 9, heightMm: 4 };
const L: Point[] = [
  [-3, -3],
  [5, -3],
  [5, 0],
  [0, 0],
  [0, 4],
  [-3, 4],
];
const S: Point[] = [
  [-4, -3],
  [1, -3],
  [1, 1],
  [4, 1],
  [4, 3],
  [-1, 3],
  [-1, -1],
  [-4, -1],
];
const star = (points: number) => around(2 * points, (k) => (k % 2 ? 2.5 : 4.5));
const at = (points: readonly Point[], x: number, y: number): Point[] =>
  points.map(([a, b]) => [a + x, b + y]);

/** The turns that are tried, degrees. */
const TURNS = [0, 15, 30, 60, 72, 90, 105, 120, 144, 180, 195, 216, 240, 270, 288, 300, 345];

/** What is told, and the turns (degrees) about the point that go in as the kernel has it. */
const CASES: [string, PegInput[], Point, boolean, number[]][] = [
  ['a D', [peg('d', d, [1, 2], 30)], [1, 2], true, [0]],
  ['a bar', [peg('bar', bar, [1, 2], 20)], [1, 2], false, [0, 180]],
  [
    'a bar as high as it is wide, which is round',
    [peg('bar', { widthMm: 6, heightMm: 6 })],
    [0, 0],
    false,
    TURNS,
  ],
  ['an L', [own(L, [1, 1], 10)], [1, 1], true, [0]],
  ['an S, after half a turn', [own(S)], [0, 0], false, [0, 180]],
  ['an S drawn beside its axis', [own(at(S, 2, 1))], [2, 1], false, [0, 180]],
  ['a star of five points', [own(star(5))], [0, 0], false, [0, 72, 144, 216, 288]],
  ['a triangle', [own(around(3, () => 5))], [0, 0], false, [0, 120, 240]],
  [
    'a square a hair from being one',
    [
      own([
        [-3, -3.03],
        [3, -3.03],
        [3, 3.03],
        [-3, 3.03],
      ]),
    ],
    [0, 0],
    false,
    [0, 90, 180, 270],
  ],
  [
    'a rectangle',
    [
      own([
        [-3, -2],
        [3, -2],
        [3, 2],
        [-3, 2],
      ]),
    ],
    [0, 0],
    false,
    [0, 180],
  ],
  ['a round one and a D', [peg('round', { diameterMm: 6 }, [-8, 0]), peg('d', d, [8, 0])], [0, 0], true, [0]],
  ['two equal D, flats the same way', [peg('d', d, [-8, 0]), peg('d', d, [8, 0])], [0, 0], true, [0]],
  ['two equal D, back to back', [peg('d', d, [-8, 0]), peg('d', d, [8, 0], 180)], [0, 0], false, [0, 180]],
  ['two equal bars', [peg('bar', bar, [-8, 0]), peg('bar', bar, [8, 0])], [0, 0], false, [0, 180]],
  [
    'a bar and a rounded rectangle as large',
    [peg('bar', bar, [-8, 0]), peg('taper', bar, [8, 0])],
    [0, 0],
    true,
    [0],
  ],
  ['two equal L, turned by a half', [own(L, [-8, 0]), own(L, [8, 0], 180)], [0, 0], false, [0, 180]],
  ['two equal L, the same way', [own(L, [-8, 0]), own(L, [8, 0])], [0, 0], true, [0]],
  [
    'a square of a person’s own and a rounded one as large',
    [
      own(
        [
          [-3, -3],
          [3, -3],
          [3, 3],
          [-3, 3],
        ],
        [-8, 0],
      ),
      peg('taper', { widthMm: 6, heightMm: 6 }, [8, 0]),
    ],
    [0, 0],
    false,
    [0, 180],
  ],
];

describe('how many ways in', () => {
  it.each(CASES)('there are for %s', async (_, pegs, [x, y], isOneWay, expected) => {
    const block = fanned(box([-20, -20, -8], [20, 20, 8]));
    const done = await createEvaluator(onlyHere(kernel), await sculptOf(block)).evaluate(jobOf([{ pegs }]));
    expect(done.evaluation.seams[0].oneWay).toBe(isOneWay);
    const [front, back] = done.tree.parts.map(({ part }) => part);
    const goesIn: number[] = [];
    scoped((keep) => {
      // The pegs stand on the back, drawn out by more than rounding and less than any gap.
      const socketed = solidOf(kernel, keep, meshOf(front));
      const pegged = keep(solidOf(kernel, keep, meshOf(back)).translate(-x, -y, -1e-3));
      for (const turn of TURNS) {
        const placed = keep(keep(pegged.rotate(0, 0, turn)).translate(x, y, 0));
        if (keep(placed.intersect(socketed)).volume() < 1e-6) goesIn.push(turn);
      }
    });
    expect(goesIn).toEqual(expected);
  });
});
