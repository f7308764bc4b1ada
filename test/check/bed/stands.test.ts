import { describe, expect, it } from 'vitest';
import { standsOn } from '../../../src/check/bed/stands.ts';
import { cross, dot } from '../../../src/math/vec3.ts';

const BED = [140, 85, 170] as const;

describe('a part on the bed', () => {
  it('fits as it stands, or turned a quarter on the bed', () => {
    expect(standsOn([140, 85, 170], BED).asItIs.overMm).toBe(0);
    expect(standsOn([85, 140, 170], BED).asItIs.overMm).toBe(0);
  });

  it('passes it along one of its axes, by the least of both ways to lie', () => {
    const { asItIs, best } = standsOn([80, 100, 171], BED);
    expect(asItIs).toMatchObject({ up: 'z', overMm: 1, axis: 'z' });
    // A hundred would have to lie along the depth for any other side to be down.
    expect(best).toMatchObject({ up: 'z', overMm: 1, axis: 'z' });
    expect(standsOn([108, 90, 85.2], BED)).toMatchObject({
      asItIs: { overMm: expect.closeTo(5, 9), axis: 'y' },
      best: { up: 'x', overMm: expect.closeTo(0.2, 9), axis: 'y' },
    });
  });

  it('fits on another side where some turn by quarter turns brings it in', () => {
    const { asItIs, best } = standsOn([160, 80, 100], BED);
    expect(asItIs).toMatchObject({ up: 'z', overMm: 20, axis: 'x' });
    expect(best).toMatchObject({ up: 'x', overMm: 0 });
  });

  it('fits on some side of its box, or on none', () => {
    const fitsOnSome = (...sizeMm: [number, number, number]) => standsOn(sizeMm, BED).best.overMm === 0;
    expect(fitsOnSome(170, 85, 140)).toBe(true);
    expect(fitsOnSome(85, 85, 171)).toBe(false);
    expect(fitsOnSome(86, 86, 10)).toBe(true);
    expect(fitsOnSome(86, 86, 86)).toBe(false);
  });

  it('is not too much by the rounding of a file', () => {
    expect(standsOn([140.0004, 85, 170], BED).asItIs.overMm).toBe(0);
    expect(standsOn([140.002, 85, 170], BED).asItIs.overMm).toBeCloseTo(0.002, 9);
  });

  it('lies along axes that are right-handed, and have the sizes along the bed that are told', () => {
    for (const sizeMm of [
      [160, 80, 100],
      [85, 140, 170],
      [10, 171, 20],
      [50, 150, 86],
    ] as const) {
      for (const { on, overMm } of Object.values(standsOn(sizeMm, BED))) {
        const [x, y, z] = on;
        expect(dot(cross(x, y), z)).toBe(1);
        const along = on.map((axis) => Math.abs(dot(axis, sizeMm)));
        expect(Math.max(0, ...along.map((mm, k) => mm - BED[k]))).toBe(overMm);
      }
    }
  });
});
