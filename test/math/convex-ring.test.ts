import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { convexRing } from '../../src/math/convex-ring.ts';

const ringOf = (...points: number[]): number[][] =>
  [...convexRing(Float64Array.from(points))].map((i) => [points[i * 2], points[i * 2 + 1]]);

describe('the convex ring around points', () => {
  it('goes round a square counter-clockwise, without what lies straight between or within', () => {
    expect(ringOf(1, 1, 0, 0, 0.5, 0, 0, 1, 1, 0, 0.5, 0.5, 1, 0.5)).toEqual([
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
    ]);
  });

  it('of points on a line is its ends, and of one place that place', () => {
    expect(ringOf(1, 1, 0, 0, 3, 3, 2, 2)).toEqual([
      [0, 0],
      [3, 3],
    ]);
    expect(ringOf(2, 5)).toEqual([[2, 5]]);
    expect(ringOf(2, 5, 2, 5, 2, 5)).toEqual([[2, 5]]);
  });

  it('turns left at every corner and has all points on its left, seed 31', () => {
    const flat = fc.integer({ min: -20, max: 20 });
    fc.assert(
      fc.property(fc.array(fc.tuple(flat, flat), { minLength: 3, maxLength: 900 }), (pairs) => {
        const points = pairs.flat();
        const ring = ringOf(...points);
        fc.pre(ring.length > 2);
        ring.forEach(([x, y], i) => {
          const [u, v] = ring[(i + 1) % ring.length];
          const left = ([p, q]: number[]) => (u - x) * (q - y) - (v - y) * (p - x);
          expect(Math.min(...pairs.map(left))).toBeGreaterThanOrEqual(0);
          expect(left(ring[(i + 2) % ring.length])).toBeGreaterThan(0);
        });
      }),
      { seed: 31, numRuns: 200 },
    );
  });
});
