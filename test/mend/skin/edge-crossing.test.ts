import { describe, expect, it } from 'vitest';
import { crossing, findCrossing } from '../../../src/mend/skin/edge-crossing.ts';
import { buildWindingTree, generalisedWinding } from '../../../src/mend/winding/generalised-winding.ts';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { buildTriangleTree } from '../../../src/mesh/near/triangle-tree.ts';
import { box, fanned, together } from '../../support/simple-solids.ts';

/** Where an edge along an axis crosses the mesh, and the normal there made a unit. */
function cross(mesh: Mesh, axis: number, at: [number, number, number], length: number) {
  const winding = buildWindingTree(buildTriangleTree(mesh));
  const end = at.map((v, k) => v + (k === axis ? length : 0));
  const from = generalisedWinding(winding, ...at);
  const to = generalisedWinding(winding, end[0], end[1], end[2]);
  findCrossing(winding, axis, Float64Array.from(at), length, from, to);
  const { along, nx, ny, nz } = crossing;
  const size = Math.hypot(nx, ny, nz) || 1;
  return { along, normal: [nx / size, ny / size, nz / size], from, to };
}

const cube = fanned(box([0, 0, 0], [4, 4, 4]));

describe('the crossing of an edge', () => {
  it.each([0, 1, 2])('is where it passes through the one triangle, along axis %d', (axis) => {
    const at = [1.3, 1.7, 2.1].map((v, k) => (k === axis ? 3 : v)) as [number, number, number];
    const { along, normal } = cross(cube, axis, at, 1.5);
    expect(along).toBeCloseTo(1, 12);
    expect(normal).toEqual([0, 1, 2].map((k) => (k === axis ? 1 : 0)));
  });

  it('is at the sheet about which the inside changes, not at one within a body', () => {
    // The second box's walls at x = 3.2 and x = 3.6 lie inside the first, which ends at x = 4.
    const inner = fanned(box([3.2, 1, 1], [3.6, 3, 3]));
    const { along } = cross(together(inner, cube), 0, [3, 1.7, 2.1], 2);
    expect(along).toBeCloseTo(1, 12);
    // From outside in, behind a sheet that lies before the body: out, in, out again, in for good.
    const plate = fanned(box([4.3, 1, 1], [4.5, 3, 3]));
    const { along: first } = cross(together(cube, plate), 0, [3.5, 1.7, 2.1], 1.5);
    expect(first).toBeCloseTo(0.5, 12);
  });

  it('is where the winding number is half where a hole is crossed, and has no normal', () => {
    const lidless = { ...cube, triangles: cube.triangles.filter((_, i) => i < 6 || i >= 12) };
    const { along, normal, from, to } = cross(lidless, 2, [1.9, 2.1, 3.9], 0.25);
    expect(from).toBeGreaterThan(0.5);
    expect(to).toBeLessThan(0.5);
    expect(along).toBeCloseTo(0.1, 2);
    expect(normal).toEqual([0, 0, 0]);
  });
});
