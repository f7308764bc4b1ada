import { beforeAll, describe, expect, it } from 'vitest';
import { makeRandom } from '../../../src/demo/prng.ts';
import { type Kernel, loadKernel } from '../../../src/kernel/load.ts';
import { kernelUnite } from '../../../src/kernel/solid.ts';
import { joinMeshes } from '../../../src/mend/bodies.ts';
import { findShellOverlaps } from '../../../src/mend/shells/shell-overlaps.ts';
import { MEND_TUNING } from '../../../src/mend/tuning.ts';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { auditMesh } from '../../../src/mesh/topology/audit.ts';
import { lumpySphere } from '../../support/figures.ts';
import { box, fanned, moved, plainVolume, torus } from '../../support/simple-solids.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

type Corner = [number, number, number];
const cube = (min: Corner, max: Corner) => fanned(box(min, max));
const inward = ({ positions, triangles }: Mesh): Mesh => ({
  positions,
  triangles: triangles.slice().reverse(),
});
const search = (...meshes: Mesh[]) => {
  const mesh = joinMeshes(meshes);
  return findShellOverlaps(mesh, auditMesh(mesh));
};

const BIG = cube([0, 0, 0], [10, 10, 10]);
const ring = torus(6, 1, 48, 24);
/** The ring turned upright, linked with the other where it is moved by its radius. */
const upright: Mesh = {
  positions: Float32Array.from(ring.positions, (_, i) =>
    i % 3 === 0 ? ring.positions[i] : i % 3 === 1 ? -ring.positions[i + 1] : ring.positions[i - 1],
  ),
  triangles: ring.triangles,
};

describe('shells that overlap', () => {
  it.each<[what: string, meshes: Mesh[]]>([
    ['pass through each other', [lumpySphere(1, 10), moved(lumpySphere(2, 10), [9, 0, 0])]],
    ['are a body in a body', [BIG, cube([3, 3, 3], [6, 6, 6])]],
    ['are a body in a body, the inner one first', [cube([3, 3, 3], [6, 6, 6]), BIG]],
    ['are boxes whose faces lie in the same planes', [BIG, cube([5, 0, 0], [15, 10, 10])]],
    ['are a box in a box, five faces in the same planes', [BIG, cube([0, 0, 0], [10, 10, 5])]],
    ['are the same twice', [BIG, cube([0, 0, 0], [10, 10, 10])]],
    [
      'are a body grown into the wall of a hollow',
      [BIG, inward(cube([2, 2, 2], [8, 8, 8])), cube([1, 4, 4], [5, 5, 5])],
    ],
  ])('are found where they %s', (_, meshes) => {
    const { count, at } = search(...meshes);
    expect(count).toBeGreaterThan(0);
    expect(at).not.toBeNull();
  });

  it.each<[what: string, meshes: Mesh[]]>([
    ['lie apart', [BIG, cube([20, 0, 0], [30, 10, 10])]],
    ['are links of a chain', [ring, moved(upright, [6, 0, 0])]],
    ['touch in a face', [BIG, cube([10, 0, 0], [20, 10, 10])]],
    ['touch in part of a face', [BIG, cube([10, 2, 3], [20, 7, 7])]],
    ['touch along an edge', [BIG, cube([10, 10, 0], [20, 20, 10])]],
    ['touch in a corner', [BIG, cube([10, 10, 10], [20, 20, 20])]],
    [
      'touch in a face, sides passing over sides',
      [cube([-4, 8, 9], [3, 13, 11]), cube([3, 9, 6], [10, 11, 11])],
    ],
    ['are a hollow', [BIG, inward(cube([3, 3, 3], [6, 6, 6]))]],
    ['are a body loose in a hollow', [BIG, inward(cube([2, 2, 2], [8, 8, 8])), cube([4, 4, 4], [5, 5, 5])]],
  ])('are not found where they %s', (_, meshes) => {
    expect(search(...meshes)).toEqual({ count: 0, at: null, pairs: [], boxes: [], complete: true });
  });

  it('are found exactly where the union has less volume than its bodies, seed 81', () => {
    const random = makeRandom(81);
    let overlapping = 0;
    for (let n = 0; n < 60; n++) {
      const place = (spread: number): Corner =>
        [0, 1, 2].map(() => Math.round((random() - 0.5) * spread)) as Corner;
      const bodies = Array.from({ length: 2 + Math.floor(random() * 3) }, (_, i) => {
        if (random() < 0.5) return moved(lumpySphere(n * 7 + i, 3 + random() * 3, 2, 0.2), place(24));
        const low = place(20);
        return cube(low, low.map((x) => x + 2 + Math.round(random() * 6)) as Corner);
      });
      const sum = bodies.reduce((total, body) => total + plainVolume(body), 0);
      const shared = sum - plainVolume(kernelUnite(kernel, bodies));
      const { count, complete } = search(...bodies);
      expect([n, count > 0, complete]).toEqual([n, shared > 1e-5, true]);
      if (count > 0) overlapping++;
    }
    expect(overlapping).toBeGreaterThan(10);
    expect(overlapping).toBeLessThan(50);
  });

  it('cost no more than the looks there are, and it is told where those run out', () => {
    // Rings wound round the same place, none of which touches another, their triangles one of each in turn.
    const rings = Array.from({ length: 400 }, (_, i) => torus(50 + i * 0.0025, 0.001, 12, 3));
    const mesh = joinMeshes(rings);
    const each = rings[0].triangles.length;
    const triangles = mesh.triangles.map((_, i) => {
      const triangle = Math.floor(i / 3);
      return mesh.triangles[(triangle % 400) * each + Math.floor(triangle / 400) * 3 + (i % 3)];
    });
    const mixed = { positions: mesh.positions, triangles };
    const found = findShellOverlaps(mixed, auditMesh(mixed));
    expect(found.count).toBe(0);
    expect(found.complete).toBe(false);
    expect(MEND_TUNING.overlapLooks).toBeLessThanOrEqual(2_000_000);
  });
});
