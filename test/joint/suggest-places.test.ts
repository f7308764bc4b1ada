import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { suggestPlaces } from '../../src/joint/suggest-places.ts';
import type { Loop } from '../../src/math/polygon.ts';

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** A star-shaped loop about (x, y). */
const star = (radii: readonly number[], x: number, y: number): Loop =>
  Float64Array.from(
    radii.flatMap((r, i) => {
      const a = (2 * Math.PI * i) / radii.length;
      return [x + r * Math.cos(a), y + r * Math.sin(a)];
    }),
  );

const backwards = (loop: Loop): Loop =>
  Float64Array.from(
    Array.from({ length: loop.length }, (_, i) => loop[loop.length - 2 - (i - (i % 2)) + (i % 2)]),
  );

const radii = (min: number, max: number) => fc.array(between(min, max), { minLength: 3, maxLength: 24 });

/** A region with up to two holes, and outlines already taken; holes keep within the region's inner circle of 5. */
const regions = fc.record({
  outer: radii(12, 20),
  holes: fc.array(radii(0.5, 1.6), { maxLength: 2 }),
  taken: fc.array(radii(0.8, 1.4), { maxLength: 1 }),
});

function loopsOf({ outer, holes, taken }: { outer: number[]; holes: number[][]; taken: number[][] }) {
  return {
    loops: [star(outer, 0, 0), ...holes.map((hole, k) => backwards(star(hole, k === 0 ? 2 : -2, 1)))],
    taken: taken.map((loop) => star(loop, 0, -3)),
  };
}

/** Even–odd count of crossings of a ray to the right. */
function isWithin(loops: readonly Loop[], x: number, y: number): boolean {
  let odd = false;
  for (const loop of loops) {
    for (let i = 0, j = loop.length - 2; i < loop.length; j = i, i += 2) {
      const [x0, y0, x1, y1] = [loop[j], loop[j + 1], loop[i], loop[i + 1]];
      if (y0 > y !== y1 > y && x < x0 + ((y - y0) / (y1 - y0)) * (x1 - x0)) odd = !odd;
    }
  }
  return odd;
}

function clearance(loops: readonly Loop[], x: number, y: number): number {
  let least = Number.POSITIVE_INFINITY;
  for (const loop of loops) {
    for (let i = 0, j = loop.length - 2; i < loop.length; j = i, i += 2) {
      const [dx, dy] = [loop[i] - loop[j], loop[i + 1] - loop[j + 1]];
      const l = Math.hypot(dx, dy);
      if (l === 0) continue;
      const t = Math.min(l, Math.max(0, ((x - loop[j]) * dx + (y - loop[j + 1]) * dy) / l));
      least = Math.min(least, Math.hypot(x - loop[j] - (t * dx) / l, y - loop[j + 1] - (t * dy) / l));
    }
  }
  return least;
}

describe('suggested places', () => {
  for (const count of [1, 2, 3, 4]) {
    it(`are ${count} inside the face, their circles free of all outlines and of one another, seed ${60 + count}`, () => {
      fc.assert(
        fc.property(regions, (region) => {
          const { loops, taken } = loopsOf(region);
          const places = suggestPlaces(loops, taken, count);
          expect(places).toHaveLength(count);
          places.forEach(({ at: [x, y], radius }, i) => {
            expect(radius).toBeGreaterThan(0);
            expect(isWithin(loops, x, y)).toBe(true);
            expect(isWithin(taken, x, y)).toBe(false);
            const others = places
              .filter((_, j) => j !== i)
              .map(({ at }) => Math.hypot(at[0] - x, at[1] - y) / 2);
            const room = Math.min(clearance([...loops, ...taken], x, y), ...others);
            expect(Math.abs(radius - room)).toBeLessThan(1e-9);
            for (const { at, radius: r } of places.slice(i + 1)) {
              expect(Math.hypot(at[0] - x, at[1] - y)).toBeGreaterThan(radius + r - 1e-9);
            }
          });
        }),
        { seed: 60 + count, numRuns: 25 },
      );
    }, 60_000);
  }

  it('are the pole of inaccessibility for one: as roomy as a fine grid of points finds, seed 65', () => {
    fc.assert(
      fc.property(regions, (region) => {
        const { loops, taken } = loopsOf(region);
        const [{ radius }] = suggestPlaces(loops, taken, 1);
        let most = 0;
        for (let x = -20; x <= 20; x += 0.5) {
          for (let y = -20; y <= 20; y += 0.5) {
            if (isWithin(loops, x, y) && !isWithin(taken, x, y))
              most = Math.max(most, clearance([...loops, ...taken], x, y));
          }
        }
        // The search starts near the face's middle, and takes a place there before one with a hair more room.
        expect(radius).toBeGreaterThan(0.9 * most);
      }),
      { seed: 65, numRuns: 40 },
    );
  });

  it('are known for a square of 2: one in the middle with 1, two on the diagonal with 2 − √2 (elementary; memory)', () => {
    const square = Float64Array.of(1, 1, -1, 1, -1, -1, 1, -1);
    const [middle] = suggestPlaces([square], [], 1);
    expect(middle.radius).toBeCloseTo(1, 3);
    for (const { radius } of suggestPlaces([square], [], 2)) expect(radius).toBeCloseTo(2 - Math.SQRT2, 2);
    for (const { radius } of suggestPlaces([square], [], 4)) expect(radius).toBeCloseTo(0.5, 2);
  });

  it('are none where all is taken', () => {
    const square = Float64Array.of(1, 1, -1, 1, -1, -1, 1, -1);
    expect(suggestPlaces([square], [square.map((v) => 2 * v)], 2)).toEqual([]);
    expect(suggestPlaces([], [], 1)).toEqual([]);
  });
});
