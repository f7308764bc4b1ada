import { describe, expect, it } from 'vitest';
import { boundsOf, measureMesh } from '../../src/mesh/measure.ts';
import { box, fanned, frustum, moved, torus } from '../support/simple-solids.ts';

describe('measure', () => {
  it('gives 63993.60016 mm³ for the sample cube of the 3MF Core Specification 1.4.0, App. B.2 (seen)', () => {
    const cube = fanned(box([0, 0, 0], [39.998, 40, 39.998]));
    // Coordinates are singles: 39.998 is off by up to 2⁻¹⁹, so the volume by 2 · 39.998 · 40 · 2⁻¹⁹ = 0.0061.
    expect(Math.abs(measureMesh(cube).volumeMm3 - 63993.60016)).toBeLessThan(0.0062);
    const exact = Math.fround(39.998) ** 2 * 40;
    expect(measureMesh(cube).volumeMm3).toBeCloseTo(exact, 9);
  });

  it('gives 56 for the frustum 4 → 2, height 6 (Moscow Mathematical Papyrus, problem 14; seen)', () => {
    expect(measureMesh(fanned(frustum(4, 2, 6))).volumeMm3).toBeCloseTo(56, 12);
  });

  it('gives a pyramid its centroid a quarter of the way up (elementary; memory)', () => {
    const { centroid } = measureMesh(fanned(frustum(4, 0, 8)));
    expect(centroid[0]).toBeCloseTo(0, 12);
    expect(centroid[1]).toBeCloseTo(0, 12);
    expect(centroid[2]).toBeCloseTo(2, 12);
  });

  it('is unchanged when the origin moves (Mirtich, J. Graphics Tools 1(2), 1996; seen)', () => {
    const here = fanned(box([-8, -4, -2], [8, 4, 2]));
    const far: [number, number, number] = [4096, -8192, 1024];
    const [a, b] = [measureMesh(here), measureMesh(moved(here, far))];
    expect(b.volumeMm3).toBe(a.volumeMm3);
    expect(b.areaMm2).toBe(a.areaMm2);
    expect(b.centroid).toEqual(a.centroid.map((x, k) => x + far[k]));
  });

  it('nears 2π² R r² and 4π² R r for a torus (Pappus; memory) as its facets shrink', () => {
    const error = (n: number) => {
      const { volumeMm3, areaMm2 } = measureMesh(torus(40, 10, n * 2, n));
      return [1 - volumeMm3 / (2 * Math.PI ** 2 * 40 * 100), 1 - areaMm2 / (4 * Math.PI ** 2 * 400)];
    };
    const [coarse, fine] = [error(40), error(80)];
    for (const k of [0, 1]) {
      expect(fine[k]).toBeGreaterThan(0);
      // Chords err by the square of their length.
      expect(coarse[k] / fine[k]).toBeCloseTo(4, 1);
    }
  });

  it('gives bounds of any mesh', () => {
    expect(boundsOf(fanned(box([-1, 2, -3], [4, 5, 6])))).toEqual({ min: [-1, 2, -3], max: [4, 5, 6] });
    const none = { positions: new Float32Array(0), triangles: new Uint32Array(0) };
    expect(boundsOf(none)).toEqual({ min: [0, 0, 0], max: [0, 0, 0] });
    expect(measureMesh(none)).toEqual({ volumeMm3: 0, areaMm2: 0, centroid: [0, 0, 0] });
  });
});
