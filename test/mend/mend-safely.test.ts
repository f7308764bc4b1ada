import { describe, expect, it } from 'vitest';
import { mendSafely } from '../../src/mend/mend-safely.ts';
import type { Repair } from '../../src/mend/report/repair.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { auditMesh, isClosed } from '../../src/mesh/topology/audit.ts';
import { weld } from '../../src/mesh/topology/weld.ts';
import { someOf, soupOf } from '../support/damage.ts';
import { lumpySphere } from '../support/figures.ts';
import { box, cornersOf, fanned, plainVolume } from '../support/simple-solids.ts';
import { triangleKeys } from '../support/stl-bytes.ts';

const cube = fanned(box([0, 0, 0], [2, 2, 2]));
const SIZE = Math.hypot(2, 2, 2);
const mended = (mesh: Mesh, size = SIZE): { mesh: Mesh; repairs: Repair[] } => {
  const repairs: Repair[] = [];
  return { mesh: mendSafely(mesh, auditMesh(mesh), size, repairs), repairs };
};
const withTriangles = (...triangles: number[]): Mesh => ({
  positions: cube.positions,
  triangles: Uint32Array.from(triangles),
});

describe('what is safe to mend', () => {
  it('is nothing in a sound mesh, which comes back as it is', () => {
    const { mesh, repairs } = mended(cube);
    expect(mesh).toBe(cube);
    expect(repairs).toEqual([]);
  });

  it('drops pointed and doubled triangles and keeps the rest in order, bit for bit', () => {
    const t = Array.from(cube.triangles);
    const dirty = withTriangles(...t.slice(0, 9), 3, 3, 5, ...t.slice(9), t[1], t[2], t[0], t[0], t[1], t[2]);
    const { mesh, repairs } = mended(dirty);
    expect(repairs).toEqual([
      { code: 'degenerate-dropped', count: 1 },
      { code: 'duplicates-dropped', count: 2 },
    ]);
    expect(cornersOf(mesh)).toEqual(cornersOf(cube));
    expect(isClosed(auditMesh(mesh))).toBe(true);
  });

  it('leaves no vertex without a triangle', () => {
    const mesh = {
      positions: Float32Array.of(...cube.positions, 900, 900, 900),
      triangles: Uint32Array.of(8, 8, 0, ...cube.triangles),
    };
    expect(mended(mesh).mesh.positions.length / 3).toBe(8);
  });

  it('turns a closed mesh that is inside out', () => {
    const t = Array.from(cube.triangles);
    const inside = withTriangles(...t.map((_, i) => t[i - (i % 3) + [0, 2, 1][i % 3]]));
    expect(plainVolume(inside)).toBeCloseTo(-8, 12);
    const { mesh, repairs } = mended(inside);
    expect(repairs).toEqual([{ code: 'turned-outward', count: 12 }]);
    expect(cornersOf(mesh)).toEqual(cornersOf(cube));
  });

  it('leaves a mesh with a large hole as it is', () => {
    const t = Array.from(cube.triangles, (_, i) => cube.triangles[i - (i % 3) + [0, 2, 1][i % 3]]);
    const open = withTriangles(...t.slice(3));
    const { mesh, repairs } = mended(open);
    expect(repairs).toEqual([]);
    expect(cornersOf(mesh)).toEqual(cornersOf(open));
  });

  it('does not join rims that lie farther apart than the stated share', () => {
    const ball = soupOf(lumpySphere(3, 10, 2));
    const loose = (far: number): Mesh =>
      weld({
        positions: ball.map((v, i) => v + (Math.floor(i / 9) % 2) * far),
        triangles: Uint32Array.from({ length: ball.length / 3 }, (_, i) => i),
      }).mesh;
    const near = mended(loose(4e-4), 20);
    expect(near.repairs.map(({ code }) => code)).toEqual(['rims-joined']);
    expect(near.repairs[0].deviationMm).toBeLessThanOrEqual(4e-4 * Math.sqrt(3));
    expect(isClosed(auditMesh(near.mesh))).toBe(true);
    // 4e-5 of 20 mm is 0.8 µm.
    expect(mended(loose(1e-3), 20).repairs).toEqual([]);
  });

  it('turns the fewer triangles where two halves disagree', () => {
    const ball = lumpySphere(3, 10, 3);
    const count = ball.triangles.length / 3;
    const few = someOf(Math.floor(count * 0.3), count, 9);
    const damaged = ball.triangles.map((_, i, t) =>
      few.has(Math.floor(i / 3)) ? t[i - (i % 3) + [0, 2, 1][i % 3]] : t[i],
    );
    const { mesh, repairs } = mended({ positions: ball.positions, triangles: damaged }, 20);
    expect(repairs).toEqual([{ code: 'turned-coherent', count: few.size }]);
    expect(triangleKeys(soupOf(mesh))).toEqual(triangleKeys(soupOf(ball)));
  });
});
