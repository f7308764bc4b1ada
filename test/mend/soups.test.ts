import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeRandom } from '../../src/demo/prng.ts';
import { mendSafely } from '../../src/mend/mend-safely.ts';
import { checkHealth } from '../../src/mend/report/health.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { auditMesh } from '../../src/mesh/topology/audit.ts';
import { soupOf } from '../support/damage.ts';
import { lumpySphere } from '../support/figures.ts';
import { triangleKeys } from '../support/stl-bytes.ts';

/** Meshes nobody should make: mending must end, keep to its rules and leave numbers that are numbers. */

const soup = fc
  .record({
    vertices: fc.integer({ min: 4, max: 14 }),
    triangles: fc.integer({ min: 1, max: 50 }),
    seed: fc.nat(1e6),
  })
  .map(({ vertices, triangles, seed }): Mesh => {
    const random = makeRandom(seed);
    return {
      positions: Float32Array.from({ length: vertices * 3 }, () => Math.floor(random() * 4)),
      triangles: Uint32Array.from({ length: triangles * 3 }, () => Math.floor(random() * vertices)),
    };
  });

describe('mending triangles at random', () => {
  it('ends, never makes a triangle of two corners, and leaves real places, seed 81', () => {
    fc.assert(
      fc.property(soup, (mesh) => {
        const mended = mendSafely(mesh, auditMesh(mesh), 6, []);
        const audit = auditMesh(mended);
        expect(audit.pointedTriangles).toHaveLength(0);
        expect(mended.positions.every(Number.isFinite)).toBe(true);
        expect(mended.triangles.every((v) => v * 3 < mended.positions.length)).toBe(true);
        for (const { count, places } of checkHealth(mended).defects) {
          expect(places).toHaveLength(Math.min(count, 300));
          expect(places.flat().every(Number.isFinite)).toBe(true);
        }
      }),
      { seed: 81, numRuns: 300 },
    );
  });

  it('does not touch a sound body that shares nothing with them, seed 82', () => {
    const ball = lumpySphere(3, 10, 2);
    const kept = triangleKeys(soupOf(ball));
    fc.assert(
      fc.property(soup, (mesh) => {
        const base = ball.positions.length / 3;
        const both = {
          positions: Float32Array.of(...ball.positions, ...mesh.positions.map((v) => v + 40)),
          triangles: Uint32Array.of(...ball.triangles, ...mesh.triangles.map((v) => v + base)),
        };
        const mended = mendSafely(both, auditMesh(both), 50, []);
        expect(triangleKeys(soupOf(mended)).slice(0, kept.length)).toEqual(kept);
      }),
      { seed: 82, numRuns: 60 },
    );
  });
});
