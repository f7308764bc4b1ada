import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Affine,
  compose,
  IDENTITY,
  isIdentity,
  isMirroring,
  mapPoints,
  scaling,
} from '../../../src/io/build/affine.ts';

const number = fc.double({ min: -10, max: 10, noNaN: true });
const affine: fc.Arbitrary<Affine> = fc.array(number, { minLength: 12, maxLength: 12 });
const points = fc.array(number, { minLength: 6, maxLength: 6 });

function mapped(src: readonly number[], m: Affine): number[] {
  const dst = new Float64Array(src.length);
  mapPoints(src, m, dst, 0);
  return Array.from(dst);
}

describe('an affine map', () => {
  it('after another is their composition, seed 73', () => {
    fc.assert(
      fc.property(affine, affine, points, (inner, outer, src) => {
        const twice = mapped(mapped(src, inner), outer);
        const once = mapped(src, compose(inner, outer));
        for (const [i, value] of once.entries()) expect(Math.abs(value - twice[i])).toBeLessThan(1e-8);
      }),
      { seed: 73, numRuns: 500 },
    );
  });

  it('mirrors where it swaps two axes or turns one round', () => {
    expect(isMirroring([0, 1, 0, 1, 0, 0, 0, 0, 1, 0, 0, 0])).toBe(true);
    expect(isMirroring([-1, 0, 0, 0, 1, 0, 0, 0, 1, 5, 5, 5])).toBe(true);
    expect(isMirroring([-1, 0, 0, 0, -1, 0, 0, 0, 1, 0, 0, 0])).toBe(false);
    expect([isIdentity(IDENTITY), isIdentity(scaling(1)), isIdentity(scaling(2))]).toEqual([
      true,
      true,
      false,
    ]);
  });
});
