import { describe, expect, test } from 'vitest';
import { makeNoise, makeOctaves } from '../../src/demo/noise.ts';
import { makeRandom } from '../../src/demo/prng.ts';

describe('seeded numbers', () => {
  test('come again from the same seed and differ from another', () => {
    const draw = (seed: number) => {
      const random = makeRandom(seed);
      return Array.from({ length: 50 }, random);
    };
    expect(draw(3)).toEqual(draw(3));
    expect(draw(3)).not.toEqual(draw(4));
  });

  // Mean and variance of the uniform distribution: 1/2 and 1/12; the bounds are five standard errors of 20,000 draws.
  test('are uniform in [0, 1)', () => {
    const random = makeRandom(9);
    const drawn = Array.from({ length: 20_000 }, random);
    const mean = drawn.reduce((a, b) => a + b) / drawn.length;
    const variance = drawn.reduce((a, b) => a + (b - mean) ** 2, 0) / drawn.length;
    expect(drawn.every((v) => v >= 0 && v < 1)).toBe(true);
    expect(Math.abs(mean - 1 / 2)).toBeLessThan(0.0102);
    expect(Math.abs(variance - 1 / 12)).toBeLessThan(0.0027);
  });
});

describe('noise', () => {
  const noise = makeNoise(2);
  const random = makeRandom(1);
  const places = Array.from(
    { length: 2000 },
    () => [random() * 90 - 45, random() * 90 - 45, random() * 90] as const,
  );

  test('is zero at lattice points and continuous across them', () => {
    for (const [x, y, z] of places.slice(0, 200)) {
      const [i, j, k] = [Math.round(x), Math.round(y), Math.round(z)];
      expect(Math.abs(noise(i, j, k))).toBe(0);
      expect(Math.abs(noise(i - 1e-6, y, z) - noise(i + 1e-6, y, z))).toBeLessThan(1e-5);
    }
  });

  test('changes faster from place to place the finer the mesh may be', () => {
    const roughness = (finestMm: number) => {
      const octaves = makeOctaves(noise, 4, finestMm);
      return places.reduce((sum, [x, y, z]) => sum + Math.abs(octaves(x + 0.05, y, z) - octaves(x, y, z)), 0);
    };
    expect(roughness(1)).toBeGreaterThan(1.2 * roughness(4));
    expect(roughness(0.25)).toBeGreaterThan(1.2 * roughness(1));
  });
});
