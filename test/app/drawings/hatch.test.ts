import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hatchPath } from '../../../app/drawings/hatch.ts';

type Line = readonly [number, number, number, number];
const linesOf = (d: string): Line[] =>
  [...d.matchAll(/M([-.\d]+) ([-.\d]+)L([-.\d]+) ([-.\d]+)/g)].map(
    ([, ...at]) => at.map(Number) as unknown as Line,
  );

/** Where a 45° line is: its x + y or x − y. */
const placeOf = ([x0, y0]: Line, way: 'rising' | 'falling'): number => (way === 'rising' ? x0 + y0 : x0 - y0);

const rect = fc.record({
  x: fc.integer({ min: -300, max: 300 }),
  y: fc.integer({ min: -300, max: 300 }),
  width: fc.integer({ min: 20, max: 500 }),
  height: fc.integer({ min: 20, max: 500 }),
});
const way = fc.constantFrom('rising' as const, 'falling' as const);
const pitch = fc.constantFrom(3, 7);

describe('a hatch', () => {
  it('is of lines at 45° the pitch apart that leave no corner of the rectangle bare', () => {
    fc.assert(
      fc.property(rect, pitch, way, (within, px, which) => {
        const lines = linesOf(hatchPath(within, px, which));
        for (const [x0, y0, x1, y1] of lines) {
          expect(Math.abs(Math.abs(x1 - x0) - Math.abs(y1 - y0))).toBeLessThan(0.21);
          for (const cx of [x0, x1]) {
            expect(cx).toBeGreaterThan(within.x - 0.06);
            expect(cx).toBeLessThan(within.x + within.width + 0.06);
          }
          // Each runs from side to side: both its ends are on the rectangle's edge.
          for (const [cx, cy] of [
            [x0, y0],
            [x1, y1],
          ]) {
            const { x, y, width, height } = within;
            const inward = [cx - x, x + width - cx, cy - y, y + height - cy].map(Math.abs);
            expect(Math.min(...inward)).toBeLessThan(0.06);
          }
          if (y1 === y0) continue;
          // The page's y runs down: a rising line gains x as it loses y.
          expect(x1 > x0 === y1 < y0).toBe(which === 'rising');
        }
        const places = lines.map((line) => placeOf(line, which));
        for (let i = 1; i < places.length; i++)
          expect(Math.abs(places[i] - places[i - 1] - px * Math.SQRT2)).toBeLessThan(0.21);
        const { x, y, width, height } = within;
        const corners = [x, x + width].flatMap((cx) =>
          [y, y + height].map((cy) => (which === 'rising' ? cx + cy : cx - cy)),
        );
        const step = px * Math.SQRT2 + 0.11;
        expect(Math.min(...places) - Math.min(...corners)).toBeLessThan(step);
        expect(Math.max(...corners) - Math.max(...places)).toBeLessThan(step);
      }),
      { seed: 11 },
    );
  });

  it('falls on the lines of another one beside it', () => {
    fc.assert(
      fc.property(rect, rect, pitch, way, (a, b, px, which) => {
        const step = px * Math.SQRT2;
        const phase = (d: string) => linesOf(d).map((line) => placeOf(line, which) / step);
        for (const place of [...phase(hatchPath(a, px, which)), ...phase(hatchPath(b, px, which))])
          expect(Math.abs(place - Math.round(place)) * step).toBeLessThan(0.11);
      }),
      { seed: 12 },
    );
  });
});
