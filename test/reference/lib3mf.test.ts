import { describe, expect, it } from 'vitest';
import { readMesh } from '../../src/io/read-mesh.ts';
import { boundsOf } from '../../src/mesh/measure.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { lumpySphere } from '../support/figures.ts';
import { type Matrix, obtainWriter } from '../support/lib3mf.ts';
import { asSource } from '../support/mesh-files.ts';
import { plainVolume } from '../support/simple-solids.ts';

/** 3MF files written by the 3MF Consortium's own library come in at the right size and place. */

const writer = obtainWriter();
if ('missing' in writer) console.warn(`lib3mf cannot be had, its tests are skipped: ${writer.missing}`);

/** A turn about an axis of the room by `angle`, times `size`, then a move. */
function matrix(axis: 0 | 1 | 2, angle: number, size: readonly number[], move: readonly number[]): Matrix {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const j = (axis + 2) % 3;
  return [0, 1, 2].map((row) => {
    const fields = [0, 1, 2].map((column) => {
      if (row === axis || column === axis) return row === column ? size[column] : 0;
      return size[column] * (row === column ? c : row === j ? s : -s);
    });
    return [...fields, move[row]];
  });
}

const times = (m: Matrix, p: readonly number[]): number[] =>
  m.map(([a, b, c, d]) => a * p[0] + b * p[1] + c * p[2] + d);

/** Extent of the mesh's vertices after the maps, the last one first, times `mm`. */
function extent({ positions }: Mesh, maps: readonly Matrix[], mm: number) {
  const min = [Infinity, Infinity, Infinity];
  const max = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < positions.length; i += 3) {
    const place = maps.reduceRight((p, m) => times(m, p), Array.from(positions.subarray(i, i + 3)));
    for (let k = 0; k < 3; k++) {
      min[k] = Math.min(min[k], place[k] * mm);
      max[k] = Math.max(max[k], place[k] * mm);
    }
  }
  return { min, max };
}

const OWN = matrix(2, 0.7, [1, 1, 1], [10, 0, 4]);
const COMPONENT = matrix(0, -1.1, [1, -2, 1], [0, 30, 0]);
const WHOLE = matrix(1, 2.3, [1.5, 1.5, 1.5], [-60, 5, 9]);
const MM = [0.001, 1, 10, 25.4, 304.8, 1000];

describe.skipIf('missing' in writer)('files of the reference library lib3mf', () => {
  it.each(MM.map((mm, unit) => [unit, mm]))(
    'come in at size and place, unit %i of %d mm',
    async (unit, mm) => {
      if ('missing' in writer) return;
      const mesh = lumpySphere(11, 7);
      const file = writer.write({ unit, mesh, transforms: [OWN, COMPONENT, WHOLE] });
      const result = await readMesh(asSource('written.3mf', file), { scale: 1 });
      const count = mesh.triangles.length / 3;
      expect(result.bodies).toEqual([
        { name: 'Käfer', triangleCount: count },
        { name: 'Käfer', triangleCount: count },
      ]);
      const [first, second] = [extent(mesh, [OWN], mm), extent(mesh, [WHOLE, COMPONENT], mm)];
      const found = boundsOf(result.mesh);
      // The library writes six decimals of vertices and transforms.
      const slack = 2e-4 * mm;
      for (let k = 0; k < 3; k++) {
        const low = found.min[k] + result.originMm[k] - Math.min(first.min[k], second.min[k]);
        const high = found.max[k] + result.originMm[k] - Math.max(first.max[k], second.max[k]);
        expect(Math.abs(low)).toBeLessThan(slack);
        expect(Math.abs(high)).toBeLessThan(slack);
      }
      // The component is mirrored and twice as wide, its item half as large again: outside stays outside.
      const volume = plainVolume(mesh) * (1 + 2 * 1.5 ** 3) * mm ** 3;
      expect(plainVolume(result.mesh) / volume).toBeCloseTo(1, 4);
    },
  );
});
