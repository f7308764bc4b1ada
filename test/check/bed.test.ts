import { describe, expect, it } from 'vitest';
import { standsOn } from '../../src/check/bed.ts';
import { finding } from '../../src/check/finding.ts';
import { inEnglish } from '../support/in-english.ts';

const BED = [140, 85, 170] as const;

describe('a part on the bed', () => {
  it('fits as it stands, or turned a quarter on the bed', () => {
    expect(standsOn([140, 85, 170], BED).asItIs.overMm).toBe(0);
    expect(standsOn([85, 140, 170], BED).asItIs.overMm).toBe(0);
  });

  it('passes it along one of its axes, by the least of both ways to lie', () => {
    const { asItIs, best } = standsOn([80, 100, 171], BED);
    expect(asItIs).toEqual({ up: 'z', overMm: 1, axis: 'z' });
    // A hundred would have to lie along the depth for any other side to be down.
    expect(best).toEqual({ up: 'z', overMm: 1, axis: 'z' });
    expect(standsOn([108, 90, 85.2], BED)).toMatchObject({
      asItIs: { overMm: expect.closeTo(5, 9), axis: 'y' },
      best: { up: 'x', overMm: expect.closeTo(0.2, 9), axis: 'y' },
    });
  });

  it('fits on another side where some turn by quarter turns brings it in', () => {
    const { asItIs, best } = standsOn([160, 80, 100], BED);
    expect(asItIs).toEqual({ up: 'z', overMm: 20, axis: 'x' });
    expect(best).toEqual({ up: 'x', overMm: 0, axis: expect.any(String) });
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

  it('is told in numbers that show it, with by how much and along what', () => {
    const sizeMm = [108, 90, 85.2] as const;
    const { best } = standsOn(sizeMm, BED);
    const facts = { part: 'torso', sizeMm, bedMm: BED, ...best };
    expect(inEnglish.finding(finding('part-outgrows-bed', 'warning', facts))).toBe(
      "Part “torso” is 108.0 × 90.0 × 85.2 mm and fits the build volume of 140.0 × 85.0 × 170.0 mm on no side: at best, with its width (X) upright, it is 0.2 mm too much along the bed's depth (Y); move a seam, or add one.",
    );
    const fine = { ...facts, sizeMm: [108, 90, 85.02] as const, overMm: 0.02 };
    expect(inEnglish.finding(finding('part-outgrows-bed', 'warning', fine))).toMatch(
      /108\.00 × 90\.00 × 85\.02 mm .* 0\.02 mm too much/,
    );
  });
});
