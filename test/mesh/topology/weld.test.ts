import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { weld } from '../../../src/mesh/topology/weld.ts';
import { cornersOf, torus } from '../../support/simple-solids.ts';

/** Triangles with vertices of their own. */
const loose = (mesh: Mesh): Mesh => ({
  positions: Float32Array.from(cornersOf(mesh)),
  triangles: Uint32Array.from(mesh.triangles, (_, i) => i),
});

/** The plain way: a map from coordinates, in which String makes both zeros "0". */
function weldByMap(mesh: Mesh): { triangles: number[]; vertices: number } {
  const seen = new Map<string, number>();
  const triangles = Array.from(mesh.triangles, (v) => {
    const key = Array.from(mesh.positions.subarray(v * 3, v * 3 + 3), String).join();
    if (!seen.has(key)) seen.set(key, seen.size);
    return seen.get(key) ?? -1;
  });
  return { triangles, vertices: seen.size };
}

const coordinate = fc.constantFrom(0, -0, 1, -1, 0.5, 1e-40, -1e-40, 3.4e38, Math.fround(0.1));
const someMesh = fc
  .array(fc.tuple(coordinate, coordinate, coordinate), { minLength: 1, maxLength: 40 })
  .chain((vertices) =>
    fc.record({
      positions: fc.constant(Float32Array.from(vertices.flat())),
      triangles: fc
        .array(
          fc.tuple(fc.nat(vertices.length - 1), fc.nat(vertices.length - 1), fc.nat(vertices.length - 1)),
          { maxLength: 60 },
        )
        .map((list) => Uint32Array.from(list.flat())),
    }),
  );

describe('weld', () => {
  it('agrees with a map of coordinates, seed 11', () => {
    fc.assert(
      fc.property(someMesh, (mesh) => {
        const { mesh: welded, mergedCount } = weld(mesh);
        const expected = weldByMap(mesh);
        expect(Array.from(welded.triangles)).toEqual(expected.triangles);
        expect(welded.positions.length / 3).toBe(expected.vertices);
        expect(mergedCount).toBe(new Set(mesh.triangles).size - expected.vertices);
        // `+ 0` makes the two zeros one.
        expect(cornersOf(welded).map((x) => x + 0)).toEqual(cornersOf(mesh).map((x) => x + 0));
      }),
      { seed: 11, numRuns: 300 },
    );
  });

  it('gives loose triangles back their shared vertices', () => {
    const whole = torus(40, 10, 120, 60);
    const { mesh, mergedCount } = weld(loose(whole));
    expect(mesh.positions.length / 3).toBe(120 * 60);
    expect(mergedCount).toBe(whole.triangles.length - 120 * 60);
    expect(cornersOf(mesh)).toEqual(cornersOf(whole));
  });

  it('numbers vertices as they are first used and drops the others', () => {
    const positions = Float32Array.of(9, 9, 9, 1, 0, 0, 2, 0, 0, 3, 0, 0, 1, 0, 0);
    const { mesh, mergedCount } = weld({ positions, triangles: Uint32Array.of(3, 4, 2, 1, 3, 2) });
    expect(Array.from(mesh.positions)).toEqual([3, 0, 0, 1, 0, 0, 2, 0, 0]);
    expect(Array.from(mesh.triangles)).toEqual([0, 1, 2, 1, 0, 2]);
    expect(mergedCount).toBe(1);
  });

  it('leaves what it was given alone, and reads meshes that are windows on larger arrays', () => {
    const all = Float32Array.of(7, 7, 7, 0, 0, 0, 1, 0, 0, 0, 1, 0);
    const triangles = Uint32Array.of(0, 1, 2);
    const { mesh } = weld({ positions: all.subarray(3), triangles });
    expect(Array.from(mesh.positions)).toEqual([0, 0, 0, 1, 0, 0, 0, 1, 0]);
    expect(Array.from(triangles)).toEqual([0, 1, 2]);
  });

  it('takes many different vertices, mirrored in two axes, and grows its table for them', () => {
    const positions = new Float32Array(300_000 * 3);
    for (let i = 0; i < 300_000; i++) {
      positions.set([Math.fround(i / 7), i % 2 === 0 ? 1 : -1, i % 2 === 0 ? 2 : -2], i * 3);
    }
    const triangles = Uint32Array.from({ length: 300_000 }, (_, i) => i);
    expect(weld({ positions, triangles }).mesh.positions.length).toBe(positions.length);
  });
});
