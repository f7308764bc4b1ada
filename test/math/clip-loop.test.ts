import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { clipLoop } from '../../src/math/clip-loop.ts';
import { loopArea, windingAt } from '../../src/math/polygon.ts';

const box = { min: [-1, -2], max: [3, 1] } as const;

describe('clipping a loop to a box', () => {
  it('leaves a loop inside as it is', () => {
    const loop = Float64Array.of(0, 0, 1, 0, 1, 0.5);
    expect(loopArea(clipLoop(loop, box))).toBe(loopArea(loop));
  });

  it('leaves nothing of a loop outside', () => {
    expect(clipLoop(Float64Array.of(5, 5, 6, 5, 6, 6), box)).toHaveLength(0);
  });

  it('gives the box for a loop around it', () => {
    expect(loopArea(clipLoop(Float64Array.of(-9, -9, 9, -9, 9, 9, -9, 9), box))).toBeCloseTo(12, 12);
  });

  it('holds the same points as the loop, within the box, seed 7', () => {
    const coordinate = fc.double({ min: -6, max: 6, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(coordinate, { minLength: 6, maxLength: 16 }),
        coordinate,
        coordinate,
        (raw, x, y) => {
          const loop = Float64Array.from(raw.slice(0, raw.length - (raw.length % 2)));
          const inBox = x > -1 && x < 3 && y > -2 && y < 1;
          const clipped = clipLoop(loop, box);
          for (let i = 0; i < clipped.length; i += 2) {
            expect(clipped[i]).toBeGreaterThanOrEqual(-1 - 1e-9);
            expect(clipped[i]).toBeLessThanOrEqual(3 + 1e-9);
          }
          if (inBox) expect(windingAt([clipped], x, y)).toBe(windingAt([loop], x, y));
        },
      ),
      { seed: 7, numRuns: 500 },
    );
  });
});
