import { describe, expect, it } from 'vitest';
import { smoothDisplay, smoothRuns } from '../../src/mesh/display.ts';
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

  it('are shaded as one where a skin is in several runs', () => {
    const { positions, triangles } = icosphere(3);
    const whole = smoothDisplay({ positions, triangles }).normals;
    // The last few vertices are numbered on, as those a joint adds are.
    const vertices = { positions: positions.slice(0, -30), added: positions.slice(-30) };
    const firstAdded = vertices.positions.length / 3;
    const isWorked = (t: number) => [0, 1, 2].some((k) => triangles[t * 3 + k] >= firstAdded);
    const count = triangles.length / 3;
    const runOf = (worked: boolean) =>
      Uint32Array.from(
        Array.from({ length: count }, (_, t) => t)
          .filter((t) => isWorked(t) === worked)
          .flatMap((t) => [...triangles.subarray(t * 3, t * 3 + 3)]),
      );
    const runs = [runOf(false), runOf(true)];
    for (let again = 0; again < 2; again++) {
      const shown = smoothRuns(vertices, runs, () => true);
      for (const [i, mesh] of shown.entries()) {
        expect(mesh!.triangles).toHaveLength(runs[i].length);
        mesh!.triangles.forEach((v, corner) => {
          const id = runs[i][corner] * 3;
          for (let k = 0; k < 3; k++) {
            expect(mesh!.positions[v * 3 + k]).toBe(positions[id + k]);
            expect(mesh!.normals[v * 3 + k]).toBeCloseTo(whole[id + k], 5);
          }
        });
      }
    }
    expect(smoothRuns(vertices, runs, (run) => run === 1)[0]).toBeNull();
  });

  it('give a triangle without area a normal without length, not a number that is none', () => {
    const flat = {
      positions: Float32Array.of(0, 0, 0, 1, 0, 0, 2, 0, 0),
      triangles: Uint32Array.of(0, 1, 2),
    };
    expect([...smoothDisplay(flat).normals].every((v) => v === 0)).toBe(true);
  });
});
