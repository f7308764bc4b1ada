import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { plane } from '../../src/math/plane.ts';
import { type Part, partOf } from '../../src/mesh/part/part.ts';
import { takeCollar } from '../../src/seam/collar.ts';
import { lumpySphere, turned } from '../support/figures.ts';
import { torus } from '../support/simple-solids.ts';

/** A part in two patches that share their edges. */
const inTwo = ({ positions, triangles }: ReturnType<typeof torus>): Part => {
  const half = Math.floor(triangles.length / 6) * 3;
  return {
    ...partOf({ positions, triangles }),
    patches: [
      { of: { kind: 'skin' }, triangles: triangles.slice(0, half) },
      { of: { kind: 'face', seamId: 'neck', facet: 0 }, triangles: triangles.slice(half) },
    ],
  };
};

describe('a collar', () => {
  it('of a part known to be sound is the same, to the order of its cone', () => {
    let taken = 0;
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1e6 }),
        fc.boolean(),
        fc.double({ min: -9, max: 9, noNaN: true }),
        fc.tuple(fc.double({ min: 0, max: 6, noNaN: true }), fc.double({ min: 0, max: 3, noNaN: true })),
        (seed, isRing, offset, [a, b]) => {
          const mesh = turned(isRing ? torus(8, 3, 24, 12) : lumpySphere(seed, 10, 3, 0.4), a, b, 0);
          const across = plane([0.2, -0.3, 1], offset);
          // Parts of their own: how the last plane parted a patch is kept with its triangles.
          const [one, other] = [takeCollar(inTwo(mesh), across), takeCollar(inTwo(mesh), across, true)];
          taken += +(one !== null);
          expect(other).toEqual(one);
        },
      ),
      { numRuns: 60, seed: 11 },
    );
    expect(taken).toBeGreaterThan(30);
  });
});
