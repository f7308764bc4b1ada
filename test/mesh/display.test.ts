import { describe, expect, it } from 'vitest';
import { smoothDisplay } from '../../src/mesh/display.ts';
import { icosphere } from '../support/figures.ts';

describe('meshes for the screen', () => {
  it('have normals that point along the radius of a ball', () => {
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

  it('give a triangle without area a normal without length, not a number that is none', () => {
    const flat = {
      positions: Float32Array.of(0, 0, 0, 1, 0, 0, 2, 0, 0),
      triangles: Uint32Array.of(0, 1, 2),
    };
    expect([...smoothDisplay(flat).normals].every((v) => v === 0)).toBe(true);
  });
});
