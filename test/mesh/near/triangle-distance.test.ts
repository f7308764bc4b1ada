import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Corners,
  nearest,
  pointTriangleSquared,
  triangleTriangleSquared,
} from '../../../src/mesh/near/triangle-distance.ts';
import { onTriangle, type Point, trianglesOf } from '../../support/independent-gap.ts';

/** Coordinates on a coarse grid as often as not, so that parallel and touching triangles turn up; singles, as in meshes. */
const coordinate = fc.oneof(
  fc.integer({ min: -3_000_000, max: 3_000_000 }).map((n) => n / 2 ** 20),
  fc.integer({ min: -2, max: 2 }),
);
const corners = fc.array(coordinate, { minLength: 9, maxLength: 9 }).map((list) => Float64Array.from(list));
const point = fc.tuple(coordinate, coordinate, coordinate);

const tripleOf = (c: Corners) => trianglesOf(c, [0, 1, 2])[0];
const gap = (a: Point, b: Point) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

/** The least distance between two triangles by turns: nearest point on one, then on the other, from many starts. */
function byTurns(a: Corners, b: Corners): number {
  const [ta, tb] = [tripleOf(a), tripleOf(b)];
  let least = Number.POSITIVE_INFINITY;
  for (const start of ta) {
    let [p, q]: [Point, Point] = [start, start];
    // Between two convex sets this closes in on the least distance, wherever it starts.
    for (let turn = 0; turn < 3000; turn++) {
      q = onTriangle(p, ...tb);
      const next = onTriangle(q, ...ta);
      if (gap(next, p) < 1e-9) break;
      p = next;
    }
    least = Math.min(least, gap(p, q));
  }
  return least;
}

/** Twice the area; next to none means no triangle. */
function area(c: Corners): number {
  const [u, v] = [3, 6].map((k) => [c[k] - c[0], c[k + 1] - c[1], c[k + 2] - c[2]]);
  return Math.hypot(u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]);
}

const turnedCorners = (c: Corners): Corners => Float64Array.of(...c.subarray(3), ...c.subarray(0, 3));
const swapped = (c: Corners): Corners =>
  Float64Array.of(...c.subarray(3, 6), ...c.subarray(0, 3), ...c.subarray(6));

describe('the distance from a point to a triangle', () => {
  it('is that to the foot on its plane or to the best of its edges, seed 81', () => {
    fc.assert(
      fc.property(corners, point, (c, p) => {
        fc.pre(area(c) > 1e-6);
        const squared = pointTriangleSquared(...p, c);
        const found: Point = [nearest.x, nearest.y, nearest.z];
        const expected = onTriangle(p, ...tripleOf(c));
        expect(Math.abs(Math.sqrt(squared) - gap(p, expected))).toBeLessThan(1e-7);
        expect(gap(found, expected)).toBeLessThan(1e-6);
      }),
      { seed: 81, numRuns: 3000 },
    );
  });
});

describe('the distance between triangles', () => {
  it('is what going to and fro between them closes in on, seed 82', () => {
    fc.assert(
      fc.property(corners, corners, (a, b) => {
        fc.pre(area(a) > 1e-2 && area(b) > 1e-2);
        const squared = triangleTriangleSquared(a, b);
        const on: Point = [nearest.x, nearest.y, nearest.z];
        const found = Math.sqrt(squared);
        const turns = byTurns(a, b);
        // To and fro comes from above, slowly where the triangles are next to parallel.
        expect(found).toBeLessThan(turns + 1e-7);
        expect(found).toBeGreaterThan(turns - 2e-3);
        expect(gap(on, onTriangle(on, ...tripleOf(a)))).toBeLessThan(1e-7);
        if (found > 0) expect(Math.abs(gap(on, onTriangle(on, ...tripleOf(b))) - found)).toBeLessThan(1e-7);
      }),
      { seed: 82, numRuns: 500 },
    );
  });

  it('is the same both ways, and however corners are numbered, seed 83', () => {
    fc.assert(
      fc.property(corners, corners, (a, b) => {
        fc.pre(area(a) > 1e-2 && area(b) > 1e-2);
        const there = Math.sqrt(triangleTriangleSquared(a, b));
        for (const [c, d] of [
          [b, a],
          [turnedCorners(a), b],
          [a, turnedCorners(b)],
          [swapped(a), swapped(b)],
        ]) {
          expect(Math.abs(Math.sqrt(triangleTriangleSquared(c, d)) - there)).toBeLessThan(1e-7);
        }
      }),
      { seed: 83, numRuns: 2000 },
    );
  });

  it('is 0 for one that pierces the other without touching its edges', () => {
    const floor = Float64Array.of(-4, -4, 0, 4, -4, 0, 0, 5, 0);
    const spike = Float64Array.of(0, 0, 3, 0.1, 0, -3, 0, 0.1, -3);
    expect(triangleTriangleSquared(floor, spike)).toBe(0);
    expect(triangleTriangleSquared(spike, floor)).toBe(0);
    const above = spike.map((v, i) => (i % 3 === 2 ? v + 4 : v));
    expect(triangleTriangleSquared(floor, above)).toBeCloseTo(1, 12);
  });
});
