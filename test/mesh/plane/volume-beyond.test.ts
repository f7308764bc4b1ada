import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { normalize, scale, type Vec3 } from '../../../src/math/vec3.ts';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { volumeBeyond } from '../../../src/mesh/plane/volume-beyond.ts';
import { icosphere, lumpySphere } from '../../support/figures.ts';
import { box, fanned, frustum, moved, plainVolume } from '../../support/simple-solids.ts';

/** The volume of the whole by the tetrahedra of every triangle, and of both sides of a plane. */
const sidesOf = (mesh: Mesh, normal: Vec3, offset: number) => [
  volumeBeyond(mesh, { normal, offset }),
  volumeBeyond(mesh, { normal: scale(normal, -1), offset: -offset }),
];

describe('the volume beyond a plane', () => {
  it('is that of the box, the frustum and the spherical cap which it cuts off', () => {
    const block = moved(fanned(box([0, 0, 0], [10, 20, 30])), [100, -50, 7]);
    expect(volumeBeyond(block, { normal: [1, 0, 0], offset: 107 })).toBeCloseTo(3 * 20 * 30, 3);
    // Half a cube, cut through its centre square to a diagonal.
    const cube = fanned(box([-5, -5, -5], [5, 5, 5]));
    expect(volumeBeyond(cube, { normal: normalize([1, 1, 1]), offset: 0 })).toBeCloseTo(500, 9);
    // Frustum 4 → 2 of height 6, V = h/3 (A1 + A2 + √(A1 A2)) (CRC Concise Encyclopedia of Mathematics, "Pyramidal
    // Frustum"; seen): at half its height it is 3 wide.
    const upper = volumeBeyond(fanned(frustum(4, 2, 6)), { normal: [0, 0, 1], offset: 3 });
    expect(upper).toBeCloseTo((3 / 3) * (9 + 4 + 6), 5);
    // πh²(3R − h)/3 (standard; derived), by facets that lie within it.
    const cap = (Math.PI * 0.3 ** 2 * (3 - 0.3)) / 3;
    const faceted = volumeBeyond(icosphere(5), { normal: [0, 0, 1], offset: 0.7 });
    expect(faceted).toBeLessThan(cap);
    expect(faceted).toBeGreaterThan(0.995 * cap);
  });

  it('adds up to the whole with that on the other side, on any plane, seed 61', () => {
    const unit = fc.double({ min: -1, max: 1, noNaN: true });
    const lumpy = lumpySphere(3, 12);
    fc.assert(
      fc.property(fc.tuple(unit, unit, unit), fc.double({ min: -20, max: 20, noNaN: true }), (n, offset) => {
        fc.pre(Math.hypot(...n) > 0.1);
        const [front, back] = sidesOf(lumpy, normalize(n), offset);
        expect(front + back).toBeCloseTo(plainVolume(lumpy), 6);
        expect(Math.min(front, back)).toBeGreaterThan(-1e-9);
      }),
      { seed: 61 },
    );
  });
});
