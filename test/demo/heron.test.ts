import { describe, expect, test } from 'vitest';
import { buildHeron, HERON_SHELLS } from '../../src/demo/heron.ts';
import { badEdgeCount, leastArea, shellClearance, shellFacts } from './shell-facts.ts';

/** Room for a busy machine: edges and shells of half a million triangles are counted the slow way. */
const TIMEOUT_MS = 120_000;

describe.each([20_000, 200_000, 450_000])(
  'the heron at %i triangles',
  { timeout: TIMEOUT_MS },
  (triangles) => {
    const mesh = buildHeron({ triangles });
    const shells = shellFacts(mesh);

    test('has about as many triangles as asked', () => {
      expect(Math.abs(mesh.triangles.length / 3 / triangles - 1)).toBeLessThan(0.15);
    });

    test('meets every edge once in each direction', () => {
      expect(badEdgeCount(mesh)).toBe(0);
    });

    test('has the shells it was designed with, each with its holes', () => {
      expect(shells.map((s) => s.euler)).toEqual(HERON_SHELLS.map((s) => 2 - 2 * s.holes));
    });

    test('winds every shell outward', () => {
      for (const shell of shells) expect(shell.volumeMm3).toBeGreaterThan(50);
    });

    test('keeps its shells apart', () => {
      expect(shellClearance(mesh, shells, 1)).toBeGreaterThan(0.1);
    });

    test('has no triangle without area', () => {
      expect(leastArea(mesh)).toBeGreaterThan(1e-7);
    });

    test('stands on z = 0 and is about 180 mm high', () => {
      const heights = mesh.positions.filter((_, i) => i % 3 === 2);
      const low = heights.reduce((a, b) => Math.min(a, b));
      const high = heights.reduce((a, b) => Math.max(a, b));
      expect(Math.abs(low)).toBeLessThan(0.01);
      expect(high).toBeGreaterThan(174);
      expect(high).toBeLessThan(184);
    });
  },
);

describe('the seed', { timeout: TIMEOUT_MS }, () => {
  test('makes the same bytes again', () => {
    const [a, b] = [buildHeron({ triangles: 20_000, seed: 5 }), buildHeron({ triangles: 20_000, seed: 5 })];
    expect(Buffer.compare(Buffer.from(a.positions.buffer), Buffer.from(b.positions.buffer))).toBe(0);
    expect(Buffer.compare(Buffer.from(a.triangles.buffer), Buffer.from(b.triangles.buffer))).toBe(0);
  });

  const first = buildHeron({ triangles: 40_000 });
  test.each([1, 2])('%i makes another figure, as sound as the first', (seed) => {
    const mesh = buildHeron({ triangles: 40_000, seed });
    expect(Buffer.compare(Buffer.from(mesh.positions.buffer), Buffer.from(first.positions.buffer))).not.toBe(
      0,
    );
    expect(badEdgeCount(mesh)).toBe(0);
    expect(shellFacts(mesh).map((s) => s.euler)).toEqual(HERON_SHELLS.map((s) => 2 - 2 * s.holes));
  });
});
