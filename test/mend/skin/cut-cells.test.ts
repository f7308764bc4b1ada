import { describe, expect, it } from 'vitest';
import { PegwrightError } from '../../../src/errors.ts';
import { findCutCells } from '../../../src/mend/skin/cut-cells.ts';
import { SparseGrid } from '../../../src/mend/skin/sparse-grid.ts';
import { buildWindingTree, generalisedWinding } from '../../../src/mend/winding/generalised-winding.ts';
import { boundsOf } from '../../../src/mesh/measure.ts';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { buildTriangleTree } from '../../../src/mesh/near/triangle-tree.ts';
import { lumpySphere } from '../../support/figures.ts';

function cutOf(mesh: Mesh, cell: number, most = 1e9) {
  const winding = buildWindingTree(buildTriangleTree(mesh));
  const grid = new SparseGrid(boundsOf(mesh), cell);
  const limit = { cells: most, refuse: () => new PegwrightError('re-skin-empty', { cellMm: cell }) };
  return { winding, cut: findCutCells(mesh, winding, grid, limit, () => {}) };
}

/** Half a ball: its hole is as wide as the figure. */
const whole = lumpySphere(21, 10, 3);
const half: Mesh = {
  positions: whole.positions,
  triangles: whole.triangles.filter((_, i) => {
    const base = i - (i % 3);
    return [0, 1, 2].every((k) => whole.positions[whole.triangles[base + k] * 3 + 2] < 1);
  }),
};

describe('the cut cells', () => {
  // Every node of the grid is asked: nothing is taken on trust from where triangles lie.
  it.each([
    ['of a closed figure', whole],
    ['of half a figure, over the hole too', half],
  ])('are those that looking at every cell finds, %s', (_, mesh) => {
    const { winding, cut } = cutOf(mesh, 1.3);
    const { size, origin, cellMm } = cut.grid;
    const inside = new Map<string, boolean>();
    for (let i = 0; i < size[0]; i++)
      for (let j = 0; j < size[1]; j++)
        for (let k = 0; k < size[2]; k++) {
          const [x, y, z] = [i, j, k].map((n, axis) => origin[axis] + n * cellMm);
          inside.set(`${i} ${j} ${k}`, generalisedWinding(winding, x, y, z) >= 0.5);
        }
    const expected = new Map<string, number>();
    for (let i = 0; i + 1 < size[0]; i++)
      for (let j = 0; j + 1 < size[1]; j++)
        for (let k = 0; k + 1 < size[2]; k++) {
          let mask = 0;
          for (let c = 0; c < 8; c++)
            if (inside.get(`${i + (c & 1)} ${j + ((c >> 1) & 1)} ${k + (c >> 2)}`)) mask |= 1 << c;
          if (mask !== 0 && mask !== 255) expected.set(`${i} ${j} ${k}`, mask);
        }
    const found = new Map(
      [...cut.masks].map((mask, n) => [[...cut.places.subarray(n * 3, n * 3 + 3)].join(' '), mask]),
    );
    expect(found.size).toBeGreaterThan(300);
    expect([...found].sort()).toEqual([...expected].sort());
  });

  it('are refused when they pass the limit', () => {
    const count = cutOf(half, 1.3).cut.masks.length;
    expect(cutOf(half, 1.3, count).cut.masks.length).toBe(count);
    expect(() => cutOf(half, 1.3, count - 1)).toThrow(PegwrightError);
  });
});
