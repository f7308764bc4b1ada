import { describe, expect, it } from 'vitest';
import { nearestOnLoops } from '../../src/math/nearest-on-loops.ts';
import { type Loop, loopArea, windingAt } from '../../src/math/polygon.ts';
import { wallContours } from '../../src/seam/wall-contours.ts';

const square = (half: number, x = 0, y = 0, hole = false): Loop => {
  const corners = [
    [-half, -half],
    [half, -half],
    [half, half],
    [-half, half],
  ].map(([a, b]) => [a + x, b + y]);
  return Float64Array.from((hole ? corners.reverse() : corners).flat());
};

describe('contours of the wall', () => {
  it('lie at their distance from the outline, inside the face', () => {
    const loops = [square(10), square(2, 3, -2, true)];
    const found = wallContours(loops, [1, 2, 3]);
    expect(found.map(({ wallMm }) => wallMm)).toEqual([1, 2, 3]);
    let points = 0;
    for (const { wallMm, lines } of found) {
      expect(lines.length).toBeGreaterThan(0);
      for (const line of lines) {
        for (let i = 0; i < line.length; i += 2) {
          expect(windingAt(loops, line[i], line[i + 1])).toBe(1);
          // A cell of the grid is 20/72 mm; a straight bit of contour cuts corners by less than half of one.
          expect(Math.abs(nearestOnLoops(loops, line[i], line[i + 1]).distance - wallMm)).toBeLessThan(0.14);
          points++;
        }
      }
    }
    expect(points).toBeGreaterThan(500);
  });

  it('leave a square of what is left of a square, and nothing where no place has so much wall', () => {
    const [inner] = wallContours([square(10)], [4]);
    expect(inner.lines).toHaveLength(1);
    // 12 × 12 with corners rounded by the grid.
    expect(Math.abs(loopArea(inner.lines[0]))).toBeGreaterThan(143);
    expect(Math.abs(loopArea(inner.lines[0]))).toBeLessThan(144.5);
    expect(wallContours([square(10)], [11])[0].lines).toEqual([]);
    expect(wallContours([], [1])).toEqual([]);
  });
});
