import { describe, expect, it } from 'vitest';
import { makeRandom } from '../../../src/demo/prng.ts';
import { windingNumber } from '../../../src/mend/winding/winding-number.ts';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { insideOut, nestedBalls, ring } from '../../support/figures.ts';
import { box, fanned, moved, together } from '../../support/simple-solids.ts';

/** Winding by summed solid angles (van Oosterom & Strackee, *IEEE Trans. Biomed. Eng.* 30(2), 1983). */
function bySolidAngle({ positions: p, triangles: t }: Mesh, at: number[]): number {
  let angle = 0;
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => [0, 1, 2].map((axis) => p[t[i + k] * 3 + axis] - at[axis]));
    const dot = (u: number[], v: number[]) => u[0] * v[0] + u[1] * v[1] + u[2] * v[2];
    const det =
      a[0] * (b[1] * c[2] - b[2] * c[1]) +
      a[1] * (b[2] * c[0] - b[0] * c[2]) +
      a[2] * (b[0] * c[1] - b[1] * c[0]);
    const [la, lb, lc] = [a, b, c].map((v) => Math.hypot(...v));
    angle += 2 * Math.atan2(det, la * lb * lc + dot(a, b) * lc + dot(b, c) * la + dot(c, a) * lb);
  }
  return angle / (4 * Math.PI);
}

describe('the winding number', () => {
  for (const [name, mesh] of [
    ['a ring', ring()],
    ['balls within balls', nestedBalls(4)],
    ['a ring inside out', insideOut(ring())],
    ['two that overlap', together(ring(), moved(ring(), [9, 0, 1]))],
  ] as const) {
    it(`agrees with solid angles about ${name}, seed 51`, () => {
      const random = makeRandom(51);
      const seen = new Set<number>();
      for (let n = 0; n < 150; n++) {
        const [x, y, z] = [0, 1, 2].map(() => (random() - 0.5) * 50);
        const winding = windingNumber(mesh, x, y, z * 0.5);
        expect(winding).toBe(Math.round(bySolidAngle(mesh, [x, y, z * 0.5])) + 0);
        seen.add(winding ?? Number.NaN);
      }
      expect(seen.size).toBeGreaterThan(1);
    });
  }

  it('is whole straight below and above edges and corners', () => {
    const cube = fanned(box([0, 0, 0], [4, 4, 4]));
    for (const x of [0, 1, 2, 3, 4])
      for (const y of [0, 1, 2, 3, 4]) {
        expect([x, y, windingNumber(cube, x, y, -1)]).toEqual([x, y, 0]);
        expect([x, y, windingNumber(cube, x, y, 5)]).toEqual([x, y, 0]);
        if (x % 4 !== 0 && y % 4 !== 0) expect([x, y, windingNumber(cube, x, y, 2)]).toEqual([x, y, 1]);
      }
  });

  it('is null on faces, edges and corners', () => {
    const cube = fanned(box([0, 0, 0], [4, 4, 4]));
    for (const x of [0, 1, 2, 4])
      for (const y of [0, 1, 2, 4])
        for (const z of [0, 1, 2, 4]) {
          const isInside = [x, y, z].every((v) => v > 0 && v < 4);
          expect([x, y, z, windingNumber(cube, x, y, z)]).toEqual([x, y, z, isInside ? 1 : null]);
        }
  });
});
