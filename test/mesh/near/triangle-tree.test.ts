import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { triangleTriangleSquared } from '../../../src/mesh/near/triangle-distance.ts';
import {
  buildTriangleTree,
  cornersOf,
  nearestToPoint,
  nearestToTriangle,
} from '../../../src/mesh/near/triangle-tree.ts';
import { lumpySphere, nestedBalls, ring } from '../../support/figures.ts';
import { onSegment, onSurface, type Point, trianglesOf } from '../../support/independent-gap.ts';
import { box, fanned, together } from '../../support/simple-solids.ts';

const FIGURES = [lumpySphere(3, 10, 2), nestedBalls(4), ring(), fanned(box([-1, -2, -3], [4, 5, 6]))].map(
  (mesh) => ({
    mesh,
    tree: buildTriangleTree(mesh),
  }),
);
const figure = fc.nat(FIGURES.length - 1);
const coordinate = fc.integer({ min: -25_000, max: 25_000 }).map((n) => n / 1024);
const point = fc.tuple(coordinate, coordinate, coordinate);
const gap = (a: Point, b: Point) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

describe('a tree of triangles', () => {
  it('holds every triangle once', () => {
    for (const { mesh, tree } of FIGURES) {
      expect([...tree.order].sort((a, b) => a - b)).toEqual(
        Array.from({ length: mesh.triangles.length / 3 }, (_, i) => i),
      );
    }
  });

  it('finds the point of the mesh that trying all triangles finds, seed 91', () => {
    fc.assert(
      fc.property(figure, point, (k, p) => {
        const { mesh, tree } = FIGURES[k];
        const found = nearestToPoint(tree, p, 100);
        const { distance } = onSurface(p, trianglesOf(mesh.positions, mesh.triangles));
        expect(Math.abs((found?.distance ?? -1) - distance)).toBeLessThan(1e-7);
        expect(Math.abs(gap(found?.onTree ?? [9, 9, 9], p) - distance)).toBeLessThan(1e-7);
        // Not beyond the cap, and not at it.
        expect(nearestToPoint(tree, p, distance * (1 - 1e-6))).toBeNull();
        if (distance > 1e-6)
          expect(nearestToPoint(tree, p, distance * (1 + 1e-6))?.distance).toBeCloseTo(distance, 7);
      }),
      { seed: 91, numRuns: 150 },
    );
  });

  it('finds the distance to a triangle that trying all pairs finds, seed 92', () => {
    const corner = fc.integer({ min: -8_000, max: 8_000 }).map((n) => n / 1024);
    fc.assert(
      fc.property(figure, point, fc.array(corner, { minLength: 9, maxLength: 9 }), (k, p, offsets) => {
        const { mesh, tree } = FIGURES[k];
        const query = Float64Array.from(offsets, (v, i) => v + p[i % 3]);
        const [a, b, c] = trianglesOf(query, [0, 1, 2])[0];
        fc.pre(gap(onSegment(a, b, c), a) > 0.1 && gap(b, c) > 0.1);
        const mine = new Float64Array(9);
        let least = Number.POSITIVE_INFINITY;
        for (let t = 0; t < mesh.triangles.length / 3; t++) {
          least = Math.min(least, triangleTriangleSquared(query, cornersOf(mesh, t, mine)));
        }
        const found = nearestToTriangle(tree, query, 100);
        expect(found?.distance).toBe(Math.sqrt(least));
        if (found && found.distance > 0)
          expect(gap(found.onTree, found.onQuery)).toBeCloseTo(found.distance, 9);
      }),
      { seed: 92, numRuns: 150 },
    );
  });

  it('is built of equal triangles and of none', () => {
    const copy = fanned(box([0, 0, 0], [1, 1, 1]));
    const tree = buildTriangleTree(together(copy, copy, copy, copy));
    expect(nearestToPoint(tree, [3, 0.5, 0.5], 10)?.distance).toBe(2);
    const none = buildTriangleTree({ positions: new Float32Array(0), triangles: new Uint32Array(0) });
    expect(nearestToPoint(none, [0, 0, 0], 10)).toBeNull();
  });
});
