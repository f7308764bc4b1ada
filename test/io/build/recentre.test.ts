import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { recentre } from '../../../src/io/build/recentre.ts';

const triangles = Uint32Array.of(0, 1, 2);

/** Singles between two others, of one sign, ends included. */
const cluster = fc
  .tuple(
    fc.float({ min: Math.fround(1e-30), max: 5e6, noNaN: true }),
    fc.array(fc.float({ min: 0, max: 1, noNaN: true }), { minLength: 3, maxLength: 30 }),
    fc.constantFrom(1, 0.999, 0.5, 1e-3, 1e-6, 0),
    fc.boolean(),
  )
  .map(([near, shares, extent, negative]) =>
    shares.map((share) => Math.fround((negative ? -1 : 1) * Math.min(near * (1 + share * extent), near * 2))),
  );

const positionsOf = (xs: number[]) => Float32Array.from(xs.flatMap((x) => [x, 0, -x]));

describe('recentring', () => {
  it('of singles far from zero loses no bit: p − c is a single and adding c gives p again, seed 17', () => {
    let movedCount = 0;
    fc.assert(
      fc.property(cluster, (xs) => {
        const src = positionsOf(xs);
        const { mesh, originMm } = recentre('a.stl', { positions: src.slice(), triangles }, 1);
        if (originMm[0] !== 0) movedCount++;
        expect(Array.from(mesh.positions)).toEqual(Array.from(src, (p, i) => p - originMm[i % 3]));
        expect(mesh.positions.map((p, i) => p + originMm[i % 3])).toEqual(src);
        // Nothing that was far stays far.
        const extent = Math.max(...xs) - Math.min(...xs);
        expect(Math.max(...xs.map((x) => Math.abs(x - originMm[0])))).toBeLessThanOrEqual(extent);
      }),
      { seed: 17, numRuns: 2000 },
    );
    expect(movedCount).toBeGreaterThan(1500);
  });

  it('of any singles loses no bit, negative zeros included, seed 18', () => {
    const any = fc.array(fc.float({ min: -1e7, max: 1e7, noNaN: true }), { minLength: 3, maxLength: 30 });
    fc.assert(
      fc.property(any, (xs) => {
        const src = positionsOf(xs);
        const { mesh, originMm } = recentre('a.stl', { positions: src.slice(), triangles }, 1);
        // Adding −0 keeps negative zeros, and `toEqual` tells them from zeros.
        expect(mesh.positions.map((p, i) => p + (originMm[i % 3] || -0))).toEqual(src);
      }),
      { seed: 18, numRuns: 1000 },
    );
  });

  it('leaves a figure that stands at or near its file’s origin where it is', () => {
    const positions = Float32Array.of(-1, 0, 5, 9, 8, 7, 2, 3, 14);
    const { mesh, originMm } = recentre('a.stl', { positions, triangles }, 1);
    expect(originMm).toEqual([0, 0, 0]);
    expect(mesh.positions).toBe(positions);
  });

  it('keeps in doubles what singles would lose far off', () => {
    const positions = Float64Array.of(1e6 + 0.001, 0, 0, 1e6 + 0.002, 1, 0, 1e6 + 0.004, 0, 1);
    const { mesh, originMm } = recentre('a.obj', { positions, triangles }, 1);
    // The file's own decimals are good to 1e-10 there; singles at 1e6 are good to 0.06.
    for (const [i, x] of [0.001, 0.002, 0.004].entries()) {
      expect(mesh.positions[i * 3] + originMm[0] - 1e6).toBeCloseTo(x, 8);
    }
  });

  it('turns about the file’s origin after the unit, and far off loses no more than a figure there has', () => {
    const positions = Float64Array.of(1e4, 2, 0, 1e4 + 1, 2, 0, 1e4, 3, 0.5);
    const { mesh, originMm } = recentre('a.obj', { positions, triangles }, 10, [
      0,
      0,
      Math.SQRT1_2,
      Math.SQRT1_2,
    ]);
    // A quarter about z: (x, y, z) goes to (−y, x, z).
    const expected = [-20, 1e5, 0, -20, 1e5 + 10, 0, -30, 1e5, 5];
    for (const [i, v] of expected.entries()) expect(mesh.positions[i] + originMm[i % 3]).toBeCloseTo(v, 5);
    expect(Math.abs(originMm[1] - 1e5)).toBeLessThan(20);
  });

  it('refuses places that are none', () => {
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY, -2e7]) {
      const positions = Float32Array.of(0, 0, 0, bad, bad, 0, 0, 0, 1);
      expect(() => recentre('a.stl', { positions, triangles }, 1)).toThrow(
        expect.objectContaining({ code: 'coordinates-not-finite', facts: { file: 'a.stl', count: 1 } }),
      );
    }
  });
});
