import { describe, expect, it } from 'vitest';
import { auditMesh, isClosed } from '../../src/mesh/audit.ts';
import { measureMesh } from '../../src/mesh/measure.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { repairMesh } from '../../src/mesh/repair.ts';
import { box, cornersOf, fanned } from '../support/simple-solids.ts';

const cube = fanned(box([0, 0, 0], [2, 2, 2]));
const repaired = (mesh: Mesh) => repairMesh(mesh, auditMesh(mesh));
const withTriangles = (...triangles: number[]): Mesh => ({
  positions: cube.positions,
  triangles: Uint32Array.from(triangles),
});

describe('repair', () => {
  it('hands a sound mesh back as it is', () => {
    const { mesh, repairs } = repaired(cube);
    expect(mesh).toBe(cube);
    expect(repairs).toEqual([]);
  });

  it('drops pointed and doubled triangles and keeps the rest in order, bit for bit', () => {
    const t = Array.from(cube.triangles);
    const dirty = withTriangles(...t.slice(0, 9), 3, 3, 5, ...t.slice(9), t[1], t[2], t[0], t[0], t[1], t[2]);
    const { mesh, audit, repairs } = repaired(dirty);
    expect(repairs).toEqual([
      { code: 'degenerate-dropped', count: 1 },
      { code: 'duplicates-dropped', count: 2 },
    ]);
    expect(cornersOf(mesh)).toEqual(cornersOf(cube));
    expect(isClosed(audit)).toBe(true);
    expect(audit.shellOf).toHaveLength(12);
  });

  it('leaves no vertex without a triangle', () => {
    const mesh = {
      positions: Float32Array.of(...cube.positions, 900, 900, 900),
      triangles: Uint32Array.of(8, 8, 0, ...cube.triangles),
    };
    expect(repaired(mesh).mesh.positions.length / 3).toBe(8);
  });

  it('turns a closed mesh that is inside out, measures included', () => {
    const t = Array.from(cube.triangles);
    const inside = withTriangles(...t.map((_, i) => t[i - (i % 3) + [0, 2, 1][i % 3]]));
    expect(measureMesh(inside).volumeMm3).toBeCloseTo(-8, 12);
    const { mesh, measures, repairs } = repaired(inside);
    expect(repairs).toEqual([{ code: 'turned-outward', count: 12 }]);
    expect(cornersOf(mesh)).toEqual(cornersOf(cube));
    expect(measures).toEqual(measureMesh(mesh));
  });

  it('does not turn a mesh that is not closed', () => {
    const t = Array.from(cube.triangles, (_, i) => cube.triangles[i - (i % 3) + [0, 2, 1][i % 3]]);
    expect(repaired(withTriangles(...t.slice(3))).repairs).toEqual([]);
  });
});
