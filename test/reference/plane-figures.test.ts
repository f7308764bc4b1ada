import { describe, expect, it } from 'vitest';
import { suggestPlaces } from '../../src/joint/suggest-places.ts';
import { nearestOnLoops } from '../../src/math/nearest-on-loops.ts';
import { loopPerimeter, polygonMoments } from '../../src/math/polygon.ts';

/** Polygons whose numbers are published or follow from elementary geometry. */

/** The search for places ends at a step of this, mm: a pole is found to it. */
const SEARCH_STEP = 1e-4;

describe('the worked polygon (2,4) (0.5,6.598) (4.83,9.098) (6.33,6.5)', () => {
  // H. J. Sommer III, polygeom, 2016; seen. Its corners are rounded to 1e-3, and so is what is compared.
  const clockwise = [2, 4, 0.5, 6.598, 4.83, 9.098, 6.33, 6.5];
  const loop = Float64Array.from([6, 4, 2, 0].flatMap((i) => [clockwise[i], clockwise[i + 1]]));
  const moments = polygonMoments([loop]);
  const [cx, cy] = moments.centroid;

  it('has area 15, centroid (3.415, 6.549) and perimeter 16', () => {
    expect(Math.abs(moments.areaMm2 - 15)).toBeLessThan(1e-3);
    expect(Math.abs(cx - 3.415)).toBeLessThan(1e-3);
    expect(Math.abs(cy - 6.549)).toBeLessThan(1e-3);
    expect(Math.abs(loopPerimeter(loop) - 16)).toBeLessThan(1e-3);
  });

  it('has second moments 659.561, 201.173, 344.117 about the origin', () => {
    // Moved from the centroid's axes (Steiner). A corner off by 0.0005 moves these by some 0.1 at most: the source
    // gives them for the rounded corners, so they agree to what is printed.
    const { areaMm2, ixx, iyy, ixy } = moments;
    expect(Math.abs(ixx + areaMm2 * cy * cy - 659.561)).toBeLessThan(1e-3);
    expect(Math.abs(iyy + areaMm2 * cx * cx - 201.173)).toBeLessThan(1e-3);
    expect(Math.abs(ixy + areaMm2 * cx * cy - 344.117)).toBeLessThan(1e-3);
  });

  it('has principal moments 11.249 and 31.247, polar moment 42.496', () => {
    const { ixx, iyy, ixy } = moments;
    const middle = (ixx + iyy) / 2;
    const reach = Math.hypot((ixx - iyy) / 2, ixy);
    expect(Math.abs(middle - reach - 11.249)).toBeLessThan(1e-3);
    expect(Math.abs(middle + reach - 31.247)).toBeLessThan(1e-3);
    expect(Math.abs(ixx + iyy - 42.496)).toBeLessThan(1e-3);
  });

  it('keeps them with a hole filled again (Steger, FGBV-96-05, 1996; seen)', () => {
    // A hole runs the other way: the same square once each way must leave nothing behind.
    const hole = Float64Array.of(3, 6, 3, 7, 4, 7, 4, 6);
    const filling = Float64Array.of(3, 6, 4, 6, 4, 7, 3, 7);
    const again = polygonMoments([loop, hole, filling]);
    expect(again.areaMm2).toBeCloseTo(moments.areaMm2, 12);
    expect(again.ixx).toBeCloseTo(moments.ixx, 10);
    expect(polygonMoments([loop, hole]).areaMm2).toBeCloseTo(moments.areaMm2 - 1, 12);
  });
});

/** Figures and the radius of the largest circle in each. */
const POLES: [name: string, points: number[], radius: number][] = [
  ['a rectangle 7 × 4: half its short side', [0, 0, 7, 0, 7, 4, 0, 4], 2],
  ['a rectangle 3 × 11', [0, 0, 3, 0, 3, 11, 0, 11], 1.5],
  ['the 3-4-5 triangle: 1', [0, 0, 4, 0, 0, 3], 1],
  ['an L of arm 1: 0.585786', [0, 0, 5, 0, 5, 1, 1, 1, 1, 5, 0, 5], 2 - Math.SQRT2],
  ['an L of arm 4', [0, 0, 20, 0, 20, 4, 4, 4, 4, 20, 0, 20], 4 * (2 - Math.SQRT2)],
];

describe('the pole of inaccessibility', () => {
  for (const [name, points, radius] of POLES) {
    for (const turn of [0, 0.3]) {
      it(`of ${name}, turned by ${turn} (Garcia-Castellanos & Lombardo 2007, elementary geometry; derived)`, () => {
        const loop = Float64Array.from(points, (_, i) => {
          const [x, y] = [points[i - (i % 2)], points[i - (i % 2) + 1]];
          return i % 2 === 0
            ? x * Math.cos(turn) - y * Math.sin(turn)
            : x * Math.sin(turn) + y * Math.cos(turn);
        });
        const [place] = suggestPlaces([loop], [], 1);
        expect(place.radius).toBeLessThanOrEqual(radius + 1e-12);
        expect(place.radius).toBeGreaterThan(radius - SEARCH_STEP);
        expect(nearestOnLoops([loop], place.at[0], place.at[1]).distance).toBeCloseTo(place.radius, 12);
      });
    }
  }
});
