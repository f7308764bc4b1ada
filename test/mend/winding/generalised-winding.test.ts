import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildWindingTree, generalisedWinding } from '../../../src/mend/winding/generalised-winding.ts';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { buildTriangleTree } from '../../../src/mesh/near/triangle-tree.ts';
import { apart, insideOut, lumpySphere, nestedBalls, overlapping, ring } from '../../support/figures.ts';
import { box, fanned, moved, together } from '../../support/simple-solids.ts';

const windingOf = (mesh: Mesh) => {
  const tree = buildWindingTree(buildTriangleTree(mesh));
  return ([x, y, z]: readonly number[]) => generalisedWinding(tree, x, y, z);
};

/** A mesh without the triangles a test picks. */
const without = ({ positions, triangles }: Mesh, drop: (t: number) => boolean): Mesh => ({
  positions,
  triangles: triangles.filter((_, i) => !drop(Math.floor(i / 3))),
});

/**
 * The winding number by summing every triangle's solid angle as the area of its spherical triangle, by
 * l'Huilier's theorem (Todhunter, *Spherical Trigonometry*, 1886, §102): another formula than the engine's.
 */
function directSum({ positions: p, triangles: t }: Mesh, q: readonly number[]): number {
  let sum = 0;
  for (let i = 0; i < t.length; i += 3) {
    const rays = [0, 1, 2].map((c) => {
      const v = [0, 1, 2].map((k) => p[t[i + c] * 3 + k] - q[k]);
      return v.map((x) => x / Math.hypot(...v));
    });
    const [a, b, c] = rays;
    const arc = (u: number[], v: number[]) =>
      2 * Math.asin(Math.min(1, Math.hypot(...u.map((x, k) => x - v[k])) / 2));
    const [ab, bc, ca] = [arc(a, b), arc(b, c), arc(c, a)];
    const s = (ab + bc + ca) / 2;
    const tangents =
      Math.tan(s / 2) * Math.tan((s - ab) / 2) * Math.tan((s - bc) / 2) * Math.tan((s - ca) / 2);
    const det =
      a[0] * (b[1] * c[2] - b[2] * c[1]) +
      a[1] * (b[2] * c[0] - b[0] * c[2]) +
      a[2] * (b[0] * c[1] - b[1] * c[0]);
    sum += Math.sign(det) * 4 * Math.atan(Math.sqrt(Math.max(0, tangents)));
  }
  return sum / (4 * Math.PI);
}

const coordinate = fc.integer({ min: -25_000, max: 25_000 }).map((n) => n / 1024);
const point = fc.tuple(coordinate, coordinate, coordinate);

describe('a generalised winding number', () => {
  const figures = [lumpySphere(3, 10, 3), nestedBalls(4), ring(), apart(5), overlapping(6)];
  const soups = [...figures, ...figures.map((mesh, k) => without(mesh, (t) => (t * 7919 + k) % 5 === 0))];
  const windings = soups.map(windingOf);

  it('is what summing every triangle gives, to two hundredths, seed 501', () => {
    fc.assert(
      fc.property(fc.nat(soups.length - 1), point, (k, q) => {
        expect(Math.abs(windings[k](q) - directSum(soups[k], q))).toBeLessThan(0.02);
      }),
      { seed: 501, numRuns: 300 },
    );
  });

  it('is what summing gives on triangles strewn at random, seed 502', () => {
    const triangle = fc.array(coordinate, { minLength: 9, maxLength: 9 });
    fc.assert(
      fc.property(fc.array(triangle, { minLength: 1, maxLength: 60 }), point, (corners, q) => {
        const soup = {
          positions: Float32Array.from(corners.flat()),
          triangles: Uint32Array.from({ length: corners.length * 3 }, (_, i) => i),
        };
        expect(Math.abs(windingOf(soup)(q) - directSum(soup, q))).toBeLessThan(0.02);
      }),
      { seed: 502, numRuns: 200 },
    );
  });

  it('counts skins: 1 inside, 0 outside and in a hollow, 2 in an overlap, −1 where all is inside out', () => {
    const nested = windingOf(nestedBalls(4));
    expect(nested([0, 0, 0])).toBeCloseTo(1, 1);
    expect(nested([8, 0, 0])).toBeCloseTo(0, 1);
    expect(nested([16, 0, 0])).toBeCloseTo(1, 1);
    expect(nested([40, 0, 0])).toBeCloseTo(0, 1);
    const cube = fanned(box([0, 0, 0], [2, 2, 2]));
    const two = windingOf(together(cube, moved(cube, [1, 0, 0])));
    expect([two([0.5, 1, 1]), two([1.5, 1.1, 1]), two([4, 1, 1])].map(Math.round)).toEqual([1, 2, 0]);
    expect(windingOf(insideOut(cube))([1, 1.1, 1])).toBeCloseTo(-1, 6);
  });

  // A rectangle of half sides a and b seen from height h over its middle: Ω = 4 atan(ab / (h √(a² + b² + h²)))
  // (Khadjavi, J. Opt. Soc. Am. 58(10), 1968; from memory, and it gives 4π/6 for a cube's side from its middle).
  it('lacks, in a box without its lid, the solid angle of the lid', () => {
    const lidless = without(fanned(box([-2, -3, -4], [2, 3, 0])), (t) => t === 2 || t === 3);
    const at = windingOf(lidless);
    for (const h of [0.2, 1, 2.5]) {
      const lid = Math.atan((2 * 3) / (h * Math.hypot(2, 3, h))) / Math.PI;
      expect(Math.abs(at([0, 0, -h]) - (1 - lid))).toBeLessThan(0.002);
      expect(Math.abs(at([0, 0, h]) - lid)).toBeLessThan(0.002);
    }
  });

  // A disc of radius r seen from height h over its middle: Ω = 2π (1 − h / √(h² + r²)).
  it('lacks, in an open hemisphere, the solid angle of the disc', () => {
    const n = 200;
    const rows = 40;
    const positions: number[] = [];
    const triangles: number[] = [];
    for (let i = 0; i <= rows; i++) {
      for (let j = 0; j < n; j++) {
        const [a, b] = [(Math.PI / 2) * (i / rows), (2 * Math.PI * j) / n];
        positions.push(5 * Math.cos(a) * Math.cos(b), 5 * Math.cos(a) * Math.sin(b), -5 * Math.sin(a));
        const [p, q] = [i * n + j, i * n + ((j + 1) % n)];
        if (i < rows) triangles.push(p, p + n, q, q, p + n, q + n);
      }
    }
    const at = windingOf({ positions: Float32Array.from(positions), triangles: Uint32Array.from(triangles) });
    for (const h of [0.5, 2, 4]) {
      const disc = (1 - h / Math.hypot(h, 5)) / 2;
      expect(Math.abs(at([0, 0, -h]) - (1 - disc))).toBeLessThan(0.005);
      expect(Math.abs(at([0, 0, h]) - disc)).toBeLessThan(0.005);
    }
  });

  it('is zero around nothing, and where triangles have no area', () => {
    expect(windingOf({ positions: new Float32Array(0), triangles: new Uint32Array(0) })([1, 2, 3])).toBe(0);
    const flat = {
      positions: Float32Array.of(0, 0, 0, 1, 0, 0, 2, 0, 0),
      triangles: Uint32Array.of(0, 1, 2),
    };
    expect(windingOf(flat)([0.5, 0, 0])).toBe(0);
    expect(windingOf(flat)([0.5, 3, 0])).toBe(0);
  });
});
