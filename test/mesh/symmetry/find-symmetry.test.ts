import { describe, expect, it } from 'vitest';
import { uniteParts } from '../../../src/demo/field.ts';
import { makeStyle } from '../../../src/demo/figure-style.ts';
import { polygonise } from '../../../src/demo/polygonise.ts';
import { makePost } from '../../../src/demo/post.ts';
import { makeRandom } from '../../../src/demo/prng.ts';
import { mirroredPlace } from '../../../src/math/mirror.ts';
import type { Plane } from '../../../src/math/plane.ts';
import { dot, length, sub } from '../../../src/math/vec3.ts';
import { boundsOf, middleOf } from '../../../src/mesh/measure.ts';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { buildTriangleTree, nearestToPoint } from '../../../src/mesh/near/triangle-tree.ts';
import { symmetryFinder } from '../../../src/mesh/symmetry/find-symmetry.ts';
import { biped } from '../../support/biped.ts';
import { icosphere, lumpySphere, turned } from '../../support/figures.ts';
import { limbed } from '../../support/limbed.ts';
import { scaled } from '../../support/meshes.ts';
import { revolved } from '../../support/revolved.ts';
import { box, fanned, together } from '../../support/simple-solids.ts';
import { trials } from '../../support/sweep.ts';

const diagonalOf = (mesh: Mesh): number => {
  const { min, max } = boundsOf(mesh);
  return length(sub(max, min));
};
const find = (mesh: Mesh) => symmetryFinder(mesh, boundsOf(mesh)).find();

/** How far apart two planes are anywhere about a figure, mm. */
function apart(mesh: Mesh, a: Plane, b: Plane): number {
  const sign = Math.sign(dot(a.normal, b.normal));
  const middle = middleOf(boundsOf(mesh));
  const turn = length(sub(a.normal, [sign * b.normal[0], sign * b.normal[1], sign * b.normal[2]]));
  const shift = Math.abs(dot(a.normal, middle) - a.offset - sign * (dot(b.normal, middle) - b.offset));
  return shift + (turn * diagonalOf(mesh)) / 2;
}

describe('the plane of a mirrored figure', () => {
  // Single precision moves each vertex by up to 4e-6 mm here, in the figure and in its image: some 1e-7 of its size.
  it.each(Array.from({ length: trials(60, 4) }, (_, seed) => seed))(
    'is found within a millionth of its size, turned and moved by seed %i',
    (seed) => {
      const { mesh, mirror } = biped(seed, { astray: true });
      const found = find(mesh);
      expect(found.isSymmetric).toBe(true);
      expect(found.share).toBe(1);
      expect(found.errorMm.max).toBeLessThan(1e-6 * diagonalOf(mesh));
      expect(apart(mesh, found.plane, mirror)).toBeLessThan(1e-6 * diagonalOf(mesh));
    },
    30_000,
  );

  // Of noise of 0.1 mm no more is left in the plane, by far: hundreds of samples even it out.
  it.each(Array.from({ length: trials(24, 2) }, (_, seed) => seed))(
    'is found within 0.05 mm where each vertex of a scan is off by up to 0.3 mm, seed %i',
    (seed) => {
      const { mesh, mirror } = biped(seed, { levels: 5, astray: true, noiseMm: 0.1 });
      const found = find(mesh);
      expect(found.isSymmetric).toBe(true);
      expect(apart(mesh, found.plane, mirror)).toBeLessThan(0.05);
      expect(found.errorMm.rms).toBeGreaterThan(0.01);
      expect(found.errorMm.rms).toBeLessThan(0.15);
    },
    30_000,
  );

  it.each(Array.from({ length: trials(24, 2) }, (_, seed) => seed))(
    'is the body’s where one arm is raised, and the share says so, seed %i',
    (seed) => {
      const { mesh, mirror } = biped(seed, { raised: 0.7, astray: true });
      const found = find(mesh);
      expect(apart(mesh, found.plane, mirror)).toBeLessThan(1e-3 * diagonalOf(mesh));
      expect(found.isSymmetric).toBe(true);
      expect(found.share).toBeLessThan(0.95);
      expect(found.farthestMm).toBeGreaterThan(5);
    },
    30_000,
  );

  it('is the body’s where something is held on one side', () => {
    const { mesh, mirror } = biped(5);
    const sword = fanned(box([26, -1.5, -20], [29, 1.5, 45]));
    const armed = together(mesh, sword);
    const found = find(armed);
    expect(apart(armed, found.plane, mirror)).toBeLessThan(1e-3 * diagonalOf(armed));
    expect(found.isSymmetric).toBe(true);
    expect(found.share).toBeLessThan(0.97);
  });
});

describe('a figure that is not symmetric', () => {
  it.each([
    ['a lump', lumpySphere(3, 30, 4)],
    ['limbs as they come', limbed(3, 3)],
    ['another', limbed(8, 5)],
  ])('is told so with how far off it is: %s', (_, mesh) => {
    const found = find(mesh);
    expect(found.isSymmetric).toBe(false);
    expect(found.share).toBeLessThan(0.6);
    expect(found.farthestMm).toBeGreaterThan(found.nearMm);
  });
});

describe('a figure that is symmetric in many ways', () => {
  it.each([
    ['a ball', scaled(icosphere(4), 25)],
    ['a box', fanned(box([3, -4, 5], [23, 26, 55]))],
    ['a cube', fanned(box([3, -4, 5], [23, 16, 25]))],
    ['a turned cube', turned(fanned(box([-9, -9, -9], [9, 9, 9])), 0.4, 1.1, 2)],
    ['a bottle', revolved((z) => 8 + 3 * Math.cos(z / 5), 20, 40, 64)],
  ])('has one of its planes found: %s', (_, mesh) => {
    const found = find(mesh);
    expect(found.isSymmetric).toBe(true);
    expect(found.share).toBe(1);
    expect(worstImage(mesh, found.plane)).toBeLessThan(found.nearMm);
  });

  it('a box is parted left and right, as it stands', () => {
    expect(find(fanned(box([3, -4, 5], [23, 26, 55]))).plane.normal.map(Math.round)).toEqual([1, 0, 0]);
  });
});

/** The farthest that a vertex’s image is from the skin, by another way of looking. */
function worstImage(mesh: Mesh, plane: Plane): number {
  const tree = buildTriangleTree(mesh);
  let worst = 0;
  for (let i = 0; i < mesh.positions.length; i += 3) {
    const [x, y, z] = mesh.positions.subarray(i, i + 3);
    worst = Math.max(worst, nearestToPoint(tree, mirroredPlace(plane, [x, y, z]), 1e6)!.distance);
  }
  return worst;
}

describe('what is measured', () => {
  it('tells of the demo’s post, cracks and grain and all, what its vertices say looked up another way', () => {
    const field = uniteParts([makePost(makeStyle(7, 1), 7)]);
    const raw = polygonise(field.detailed, field.box, 1.2);
    const post = { positions: Float32Array.from(raw.positions), triangles: raw.triangles };
    const finder = symmetryFinder(post, boundsOf(post));
    const { plane, share, nearMm, farthestMm, isSymmetric } = finder.find();
    expect(isSymmetric).toBe(false);
    const tree = buildTriangleTree(post);
    const random = makeRandom(1);
    let near = 0;
    const looks = 3000;
    for (let k = 0; k < looks; k++) {
      const v = Math.floor((random() * post.positions.length) / 3) * 3;
      const [x, y, z] = post.positions.subarray(v, v + 3);
      const { distance } = nearestToPoint(tree, mirroredPlace(plane, [x, y, z]), 1e6)!;
      if (distance <= nearMm) near++;
    }
    // Its triangles are not all alike, so that its vertices stand only roughly for its area.
    expect(Math.abs(near / looks - share)).toBeLessThan(0.08);
    expect(Math.abs(worstImage(post, plane) / farthestMm - 1)).toBeLessThan(0.3);
  });

  it('is worse across any other plane', () => {
    const { mesh, mirror } = biped(2);
    const finder = symmetryFinder(mesh, boundsOf(mesh));
    expect(finder.across(mirror).share).toBe(1);
    expect(finder.across({ ...mirror, offset: mirror.offset + 2 }).share).toBeLessThan(0.5);
    expect(finder.across({ normal: [0, 0, 1], offset: 0 }).isSymmetric).toBe(false);
  });
});
