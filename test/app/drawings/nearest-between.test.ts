import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  isClockwise,
  isInside,
  measureLiveWall,
  nearestBetween,
} from '../../../app/drawings/nearest-between.ts';

const box = (x0: number, y0: number, x1: number, y1: number): Float64Array =>
  Float64Array.of(x0, y0, x1, y0, x1, y1, x0, y1);
const reversed = (o: Float64Array): Float64Array => {
  const out = new Float64Array(o.length);
  for (let i = 0; i < o.length; i += 2) out.set([o[o.length - 2 - i], o[o.length - 1 - i]], i);
  return out;
};

describe('the shortest line between outlines', () => {
  it('runs square between parallel sides', () => {
    const found = nearestBetween(box(-1, -1, 1, 1), [box(-5, -4, 3.5, 9)]);
    expect(found?.mm).toBeCloseTo(2.5, 12);
    expect(found?.from[0]).toBe(1);
    expect(found?.to[0]).toBe(3.5);
  });

  it('runs from corner to corner where that is nearest', () => {
    const found = nearestBetween(box(0, 0, 1, 1), [box(4, 5, 6, 7)]);
    expect(found).toEqual({ mm: 5, from: [1, 1], to: [4, 5] });
  });

  it('is zero where outlines cross', () => {
    expect(nearestBetween(box(0, 0, 2, 2), [box(1, 1, 3, 3)])?.mm).toBe(0);
  });

  it('is null without outlines', () => {
    expect(nearestBetween(box(0, 0, 1, 1), [])).toBeNull();
  });

  it('agrees with dense samples of both outlines, seed 7', () => {
    const at = fc.double({ min: -8, max: 8, noNaN: true });
    const size = fc.double({ min: 0.1, max: 5, noNaN: true });
    fc.assert(
      fc.property(at, at, size, size, at, at, size, size, (x, y, w, h, p, q, s, t) => {
        const a = box(x, y, x + w, y + h);
        const b = Float64Array.of(p, q, p + s, q + t / 2, p, q + t);
        const found = nearestBetween(a, [b]);
        const least = sampledDistance(a, b);
        expect(found?.mm).toBeLessThanOrEqual(least + 1e-9);
        // 64 samples a side of at most 7.1 mm: a sample lies within half a step of every point.
        expect(least - (found?.mm ?? 0)).toBeLessThan(2 * (7.1 / 64 / 2) + 1e-9);
      }),
      { seed: 7, numRuns: 60 },
    );
  });
});

function sampledDistance(a: Float64Array, b: Float64Array): number {
  const [pa, pb] = [a, b].map((o) => {
    const points: [number, number][] = [];
    for (let i = 0, j = o.length - 2; i < o.length; j = i, i += 2) {
      for (let k = 0; k <= 64; k++) {
        points.push([o[j] + (k / 64) * (o[i] - o[j]), o[j + 1] + (k / 64) * (o[i + 1] - o[j + 1])]);
      }
    }
    return points;
  });
  let least = Infinity;
  for (const p of pa) for (const q of pb) least = Math.min(least, Math.hypot(p[0] - q[0], p[1] - q[1]));
  return least;
}

describe('the wall around a socket', () => {
  const hole = reversed(box(6, 6, 8, 8));
  const face = [box(0, 0, 20, 20), hole];

  it('knows holes by their turn, and as outside', () => {
    expect([isClockwise(face[0]), isClockwise(hole)]).toEqual([false, true]);
    expect([isInside(face, 3, 3), isInside(face, 7, 7), isInside(face, 21, 3)]).toEqual([true, false, false]);
  });

  it('counts a hole as skin', () => {
    expect(measureLiveWall(box(9.5, 6, 12, 8), face)).toMatchObject({ mm: 1.5, broken: false });
  });

  it('is broken across the outline, off the face, and around a hole', () => {
    for (const socket of [box(-1, 3, 2, 5), box(30, 3, 32, 5), box(5, 5, 9, 9), box(6.5, 6.5, 7.5, 7.5)]) {
      expect(measureLiveWall(socket, face)).toMatchObject({ mm: 0, broken: true });
    }
  });
});

describe('a point of a face', () => {
  const square = (low: number, high: number) => Float64Array.of(low, low, high, low, high, high, low, high);
  const hole = Float64Array.of(4, 4, 4, 6, 6, 6, 6, 4);

  it('is inside where outlines overlap, and outside in a hole', () => {
    expect(isInside([square(0, 10), square(5, 15)], 7, 7)).toBe(true);
    expect(isInside([square(0, 10), square(2, 8)], 5, 5)).toBe(true);
    expect(isInside([square(0, 10), hole], 5, 5)).toBe(false);
    expect(isInside([square(0, 10), hole], 3, 5)).toBe(true);
    expect(isInside([square(0, 10)], 12, 5)).toBe(false);
  });
});
