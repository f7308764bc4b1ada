import { describe, expect, it } from 'vitest';
import { Corners } from '../../../src/check/bed/corners.ts';
import { searchTurn } from '../../../src/check/bed/turn-search.ts';
import { makeRandom } from '../../../src/demo/prng.ts';
import { turned, turnOnto } from '../../../src/math/quaternion.ts';
import type { Vec3 } from '../../../src/math/vec3.ts';
import { sweep } from '../../support/sweep.ts';
import { evenTurn, turnedExcess } from '../../support/turned-excess.ts';

const AS_IT_IS = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
] as const;

/** The best turn of points (x, y, z each), found to within a tenth or a share of the excess, and its excess as judged. */
function searched(points: ArrayLike<number>, bedMm: Vec3, mostLooks = 12_000) {
  const farthest = ([x, y, z]: Vec3): Vec3 => {
    let [best, reach] = [0, Number.NEGATIVE_INFINITY];
    for (let i = 0; i < points.length; i += 3) {
      const along = x * points[i] + y * points[i + 1] + z * points[i + 2];
      if (along > reach) [best, reach] = [i, along];
    }
    return [points[best], points[best + 1], points[best + 2]];
  };
  const enoughMm = (overMm: number) => Math.max(0.1, overMm / 10);
  const found = searchTurn(new Corners(farthest), { bedMm, first: [AS_IT_IS], enoughMm, mostLooks });
  return { ...found, judgedMm: turnedExcess(points, turnOnto(found.axes), bedMm), enoughMm };
}

const boxCorners = ([a, b, c]: Vec3): number[] =>
  [0, 1, 2, 3, 4, 5, 6, 7].flatMap((k) => [k & 1 ? a : 0, k & 2 ? b : 0, k & 4 ? c : 0]);

/** A turn from a seed. */
const turnFrom = (random: () => number) => evenTurn(random(), random(), random());

describe('a thin rod', () => {
  const BED = [140, 85, 170] as const;
  const diagonal = Math.hypot(...BED);

  it('fits up to the diagonal of the bed', () => {
    for (const [mm, seed] of [
      [diagonal - 0.05, 1],
      [diagonal - 20, 2],
      [171, 3],
    ]) {
      const rod = turned([0, 0, 0, mm, 0, 0], turnFrom(makeRandom(seed)));
      const { overMm, judgedMm } = searched(rod, BED);
      expect(judgedMm).toBeCloseTo(overMm, 9);
      expect(overMm).toBeLessThanOrEqual(0.001);
    }
  });

  it('that is longer passes every side by as much, where it lies best', () => {
    for (const longer of [0.5, 5, 60]) {
      const rod = turned([0, 0, 0, 0, 0, diagonal + longer], turnFrom(makeRandom(4)));
      const { overMm, leastMm } = searched(rod, BED);
      // (a + v)² + (b + v)² + (c + v)² is the square of its length. It may be rolled as one likes: many turns are best.
      const [sum, square] = [140 + 85 + 170, (diagonal + longer) ** 2 - diagonal ** 2];
      const v = (Math.sqrt(sum * sum + 3 * square) - sum) / 3;
      expect(overMm).toBeGreaterThan(v - 1e-9);
      expect(overMm).toBeLessThan(v + 0.1);
      expect(leastMm).toBeLessThan(v + 1e-9);
    }
  });
});

describe('solids whose best turn is known', () => {
  const edge = 100;
  /** Corners of a cube of edge/√2, every other one. */
  const h = edge / Math.SQRT2;
  const tetrahedron = [0, 0, 0, h, h, 0, h, 0, h, 0, h, h];
  const cube = boxCorners([edge, edge, edge]);

  it.each([
    ['a cube in its own size', cube, edge, 0],
    ['a cube in a smaller one', cube, edge - 3, 3],
    ['a tetrahedron in the cube whose corners it has', tetrahedron, h, 0],
    ['a tetrahedron in a smaller cube', tetrahedron, h - 2, 2],
  ])('%s', (_, points, side, tooMuch) => {
    for (const seed of [5, 6, 7]) {
      const { overMm, leastMm, judgedMm } = searched(turned(points, turnFrom(makeRandom(seed))), [
        side,
        side,
        side,
      ]);
      expect(judgedMm).toBeCloseTo(overMm, 9);
      // In no turn are they narrower than that.
      expect(overMm).toBeGreaterThan(tooMuch - 1e-9);
      expect(leastMm).toBeLessThan(tooMuch + 1e-9);
      expect(overMm).toBeLessThan(tooMuch + Math.max(0.1, overMm / 10) + 1e-9);
    }
  });
});

describe('a box that was turned', () => {
  it.each(sweep(100, 400, 60))('fits a bed a little larger, seed %i', (seed) => {
    const random = makeRandom(seed);
    const side = () => 20 + 180 * random();
    const size: Vec3 = [side(), side(), side()];
    const points = turned(boxCorners(size), turnFrom(random));
    const order = [
      [0, 1, 2],
      [1, 2, 0],
      [2, 0, 1],
    ][seed % 3];
    const [x, y, z] = order.map((k) => size[k] + 0.1);
    const { overMm, judgedMm } = searched(points, [x, y, z]);
    expect(judgedMm).toBeCloseTo(overMm, 9);
    expect(overMm).toBeLessThanOrEqual(0.001);
  });
});

describe('a figure of many corners', () => {
  it.each(sweep(500, 120, 12))('is never less too much in any turn than is told, seed %i', (seed) => {
    const random = makeRandom(seed);
    const [a, b, c] = [30 + 60 * random(), 20 + 40 * random(), 10 + 60 * random()];
    const count = 4 + Math.floor(random() * 200);
    const points: number[] = [];
    for (let i = 0; i < count; i++) {
      const [x, y, z] = turned([1, 0, 0], turnFrom(random));
      points.push(a * x, b * y, c * z);
    }
    const bed: Vec3 = [a * (1 + random()), b * (1 + random()), c * (1 + random())];
    const { overMm, leastMm, judgedMm, enoughMm } = searched(points, bed);
    expect(judgedMm).toBeCloseTo(overMm, 9);
    expect(leastMm).toBeLessThanOrEqual(overMm);
    if (overMm > 0.001) expect(overMm - leastMm).toBeLessThanOrEqual(enoughMm(overMm) + 1e-9);
    for (let i = 0; i < 2000; i++) {
      expect(turnedExcess(points, turnFrom(random), bed)).toBeGreaterThan(Math.min(leastMm, 0.001) - 1e-9);
    }
  });

  it('says how much it may have missed when it had to stop', () => {
    const random = makeRandom(9);
    const ball = Array.from({ length: 150 }, () => turned([50, 0, 0], turnFrom(random))).flatMap((p) => [
      ...p,
    ]);
    const few = searched(ball, [90, 91, 92], 40);
    const many = searched(ball, [90, 91, 92]);
    expect(few.overMm - few.leastMm).toBeGreaterThan(many.overMm - many.leastMm);
    expect(few.leastMm).toBeLessThanOrEqual(many.overMm);
  });
});
