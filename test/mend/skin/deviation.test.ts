import { describe, expect, it } from 'vitest';
import { measureDeviation } from '../../../src/mend/skin/deviation.ts';
import { buildWindingTree } from '../../../src/mend/winding/generalised-winding.ts';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { buildTriangleTree } from '../../../src/mesh/near/triangle-tree.ts';
import { icosphere } from '../../support/figures.ts';
import { inscribedRadius, scaled } from '../../support/meshes.ts';
import { box, fanned, moved, together } from '../../support/simple-solids.ts';

const between = (old: Mesh, skin: Mesh, cellMm: number) =>
  measureDeviation(buildWindingTree(buildTriangleTree(old)), skin, cellMm);
const cube = fanned(box([0, 0, 0], [10, 10, 10]));

describe('the deviation of two skins', () => {
  it('is none between a skin and itself', () => {
    const same = between(cube, cube, 1);
    expect(same.maxMm).toBeLessThan(1e-6);
    expect(same.meanMm).toBeLessThan(1e-6);
  });

  it('is the gap of two balls about one middle, everywhere', () => {
    const small = scaled(icosphere(4), 10);
    const { maxMm, meanMm } = between(small, scaled(icosphere(4), 11), 2);
    const sag = 10 - inscribedRadius(small);
    expect(maxMm).toBeGreaterThan(1 - 1.1 * sag);
    expect(maxMm).toBeLessThan(1 + 1.1 * sag);
    expect(Math.abs(meanMm - 1)).toBeLessThan(1.1 * sag);
  });

  it('finds a spike of either skin, and says where', () => {
    const spike = fanned({
      vertices: [
        [4.9, 4.9, 10],
        [5.1, 4.9, 10],
        [5, 5.1, 10],
        [5, 5, 13],
      ],
      faces: [
        [0, 1, 3],
        [1, 2, 3],
        [2, 0, 3],
      ],
    });
    const spiked = together(cube, spike);
    const lost = between(spiked, cube, 1);
    expect(lost.maxMm).toBeCloseTo(3, 1);
    expect(lost.at?.[2]).toBeCloseTo(13, 1);
    // A new skin has its vertices on the old one, so that it is looked at between them alone.
    const gained = between(cube, spiked, 1);
    expect(gained.maxMm).toBeGreaterThan(2);
    expect(gained.at?.[2]).toBeCloseTo(10 + gained.maxMm, 1);
  });

  it('leaves out sheets within a body: the walls where two boxes overlap', () => {
    const union = fanned(box([0, 0, 0], [16, 10, 10]));
    // The second box ends at x = 16, and its inner wall at x = 6 is 4 mm from any skin.
    const both = together(cube, moved(cube, [6, 0, 0]));
    expect(between(both, union, 1).maxMm).toBeLessThan(1e-5);
  });
});
