import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isBeyond } from '../../../src/mesh/near/is-beyond.ts';
import { buildTriangleTree, nearestToTriangle } from '../../../src/mesh/near/triangle-tree.ts';
import { icosphere, lumpySphere, ring } from '../../support/figures.ts';

const FIGURES = [icosphere(3), lumpySphere(3, 10, 2), ring()].map(buildTriangleTree);
const [ball] = FIGURES;
const coordinate = fc.integer({ min: -25_000, max: 25_000 }).map((n) => n / 1024);
const corner = fc.integer({ min: -1_500, max: 1_500 }).map((n) => n / 1024);
const triangle = fc
  .tuple(fc.tuple(coordinate, coordinate, coordinate), fc.array(corner, { minLength: 9, maxLength: 9 }))
  .map(([p, offsets]) => Float64Array.from(offsets, (v, i) => v + p[i % 3]));
const distanceOf = (tree: (typeof FIGURES)[number], corners: Float64Array): number =>
  nearestToTriangle(tree, corners, 100)?.distance ?? Number.POSITIVE_INFINITY;

describe('a triangle beyond a distance', () => {
  it('is never one that is nearer, whatever the mesh, seed 71', () => {
    let told = 0;
    fc.assert(
      fc.property(
        fc.nat(FIGURES.length - 1),
        triangle,
        fc.double({ min: 0.3, max: 1.5, noNaN: true }),
        (k, t, share) => {
          const tree = FIGURES[k];
          const distance = distanceOf(tree, t);
          fc.pre(distance > 1e-6);
          if (!isBeyond(tree, t, distance * share)) return;
          told++;
          expect(share).toBeLessThan(1 + 1e-9);
        },
      ),
      { seed: 71, numRuns: 600 },
    );
    expect(told).toBeGreaterThan(200);
  });

  it('is not one whose middle is on the mesh', () => {
    const { positions } = ball.mesh;
    const pole = [0, 1, 2].map((k) => (k === 1 ? -1 : 0));
    expect(positions.some((_, i) => i % 3 === 0 && pole.every((c, k) => positions[i + k] === c))).toBe(true);
    const through = Float64Array.of(0.25, -1, 0, -0.25, -1, 0, 0, -1, 0);
    expect(isBeyond(ball, through, 0.5)).toBe(false);
  });

  it('is told of a convex mesh nearly up to the distance itself, seed 72', () => {
    fc.assert(
      fc.property(triangle, (t) => {
        const distance = distanceOf(ball, t);
        fc.pre(distance > 3);
        // The plane is square to the way to the triangle's middle, which is up to 1.7 mm from what is nearest.
        expect(isBeyond(ball, t, distance - 1)).toBe(true);
      }),
      { seed: 72, numRuns: 200 },
    );
  });
});
