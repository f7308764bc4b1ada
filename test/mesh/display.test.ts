import { describe, expect, it } from 'vitest';
import { flatDisplay, smoothDisplay } from '../../src/mesh/display.ts';
import { icosphere } from '../support/figures.ts';
import { box, fanned } from '../support/simple-solids.ts';

describe('meshes for the screen', () => {
  it('have normals that point along the radius of a ball when they are smooth', () => {
    const ball = icosphere(3);
    const { positions, normals, triangles } = smoothDisplay(ball);
    expect(positions).toBe(ball.positions);
    expect(triangles).toBe(ball.triangles);
    for (let i = 0; i < positions.length; i += 3) {
      const along = [0, 1, 2].reduce((sum, k) => sum + positions[i + k] * normals[i + k], 0);
      expect(along).toBeGreaterThan(0.999);
      expect(Math.hypot(...normals.subarray(i, i + 3))).toBeCloseTo(1, 6);
    }
  });

  it('have three corners and one normal for each triangle when they are flat', () => {
    const cube = fanned(box([0, 0, 0], [1, 2, 3]));
    const { positions, normals, triangles } = flatDisplay(cube);
    expect([...triangles]).toEqual(Array.from({ length: 36 }, (_, i) => i));
    for (let t = 0; t < 12; t++) {
      const corners = [0, 1, 2].flatMap((k) => [
        ...cube.positions.subarray(cube.triangles[t * 3 + k] * 3, cube.triangles[t * 3 + k] * 3 + 3),
      ]);
      expect([...positions.subarray(t * 9, t * 9 + 9)]).toEqual(corners);
      const normal = [...normals.subarray(t * 9, t * 9 + 3)];
      for (const k of [3, 6]) expect([...normals.subarray(t * 9 + k, t * 9 + k + 3)]).toEqual(normal);
      expect(normal.map(Math.abs).sort()).toEqual([0, 0, 1]);
      // Out of the box: the triangle's middle moved along its normal lies outside.
      const out = [0, 1, 2].some((k) => {
        const v = (corners[k] + corners[3 + k] + corners[6 + k]) / 3 + 0.01 * normal[k];
        return v < 0 || v > [1, 2, 3][k];
      });
      expect(out).toBe(true);
    }
  });

  it('give a triangle without area a normal without length, not a number that is none', () => {
    const flat = {
      positions: Float32Array.of(0, 0, 0, 1, 0, 0, 2, 0, 0),
      triangles: Uint32Array.of(0, 1, 2),
    };
    expect([...flatDisplay(flat).normals, ...smoothDisplay(flat).normals].every((v) => v === 0)).toBe(true);
  });
});
