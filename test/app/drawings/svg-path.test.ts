import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isInside } from '../../../app/drawings/nearest-between.ts';
import { linePath } from '../../../app/drawings/svg-path.ts';
import type { View } from '../../../app/drawings/view.ts';

const view: View = { scale: 1, x: 0, y: 0, way: 1 };
const window = { x: -20, y: -15, width: 40, height: 30 };

/** The corners of a path in the window's own coordinates. */
const cornersOf = (d: string): Float64Array => Float64Array.from((d.match(/-?\d+\.?\d*/g) ?? []).map(Number));

describe('a path through a window', () => {
  const coordinate = fc.integer({ min: -100, max: 100 });
  const loop = fc
    .array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 40 })
    .map((points) => Float64Array.from(points.flat()));

  it('shows in the window what the whole path shows there, seed 31', () => {
    const at = fc.tuple(
      fc.double({ min: -20, max: 20, noNaN: true }),
      fc.double({ min: -15, max: 15, noNaN: true }),
    );
    fc.assert(
      fc.property(loop, fc.array(at, { minLength: 20, maxLength: 20 }), (line, places) => {
        const whole = cornersOf(linePath(view, line, true));
        const seen = cornersOf(linePath(view, line, true, window));
        expect(seen.length).toBeLessThanOrEqual(whole.length);
        for (const [x, y] of places) expect(isInside([seen], x, y)).toBe(isInside([whole], x, y));
      }),
      { seed: 31, numRuns: 400 },
    );
  });

  it('is turned over with the view', () => {
    const line = Float64Array.of(0, 0, 5, 8);
    expect(linePath(view, line, false)).toBe('M0.0 0.0L5.0 -8.0');
    expect(linePath({ ...view, way: -1 }, line, false)).toBe('M0.0 0.0L5.0 8.0');
  });

  it('passes over what runs along beyond it', () => {
    const far = Float64Array.from(Array.from({ length: 200 }, (_, i) => [200 + (i % 3), i - 100]).flat());
    expect(cornersOf(linePath(view, far, true, window)).length).toBeLessThan(20);
    expect(cornersOf(linePath(view, far, true)).length).toBe(400);
  });
});
