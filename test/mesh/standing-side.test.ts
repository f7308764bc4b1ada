import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { turnAbout, turned, turnedVec } from '../../src/math/quaternion.ts';
import { dot, length, normalize, sub, type Vec3 } from '../../src/math/vec3.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { standingSide } from '../../src/mesh/standing-side.ts';
import { box, fanned } from '../support/simple-solids.ts';

const tilted = (mesh: Mesh, axis: Vec3, deg: number): Mesh => ({
  ...mesh,
  positions: Float32Array.from(turned(mesh.positions, turnAbout(axis, deg))),
});

describe('the side a figure stands on', () => {
  it('is the side that a tilted box was tilted off, while that is nearest to down', () => {
    const block = fanned(box([-10, -10, -25], [10, 10, 25]));
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
        fc.double({ min: 0, max: 40, noNaN: true }),
        (way, deg) => {
          const axis: Vec3 = [Math.cos(way), Math.sin(way), 0];
          const side = standingSide(tilted(block, axis, deg), [0, 0, 0]);
          const expected = turnedVec([0, 0, -1], turnAbout(axis, deg));
          expect(length(sub(side ?? [0, 0, 0], expected))).toBeLessThan(1e-5);
        },
      ),
      { seed: 3, numRuns: 200 },
    );
  });

  it('is a side its weight is over, not one it would fall off', () => {
    // A block whose weight lies over the edge of its foot: it lies on its long side instead.
    const block = fanned(box([0, 0, 0], [10, 10, 40]));
    expect(standingSide(block, [5, 5, 20])).toEqual([0, 0, -1]);
    const side = standingSide(block, [10.5, 5, 20]) ?? [0, 0, 0];
    expect(dot(side, [0, 0, -1])).toBeCloseTo(0, 12);
  });

  it('is steady: a box is not stood on a foot it would be tipped off by less than 5°', () => {
    const pole = fanned(box([-1, -1, 0], [1, 1, 100]));
    // Its weight 50 mm over a foot 1 mm from the edge: atan(1/50) is 1.1°.
    const side = standingSide(pole, [0, 0, 50]) ?? [0, 0, -1];
    expect(Math.abs(side[2])).toBeLessThan(1e-12);
  });

  it('does not mind a base that is not quite flat', () => {
    const block = fanned(box([-10, -10, 0], [10, 10, 30]));
    const positions = block.positions.slice();
    positions[2] += positions[2] === 0 ? 0.01 : -0.01;
    const side = standingSide({ ...block, positions }, [0, 0, 15]) ?? [0, 0, 0];
    expect(dot(normalize(side), [0, 0, -1])).toBeGreaterThan(0.999);
  });

  it('is none where there is no surface', () => {
    const nothing = { positions: new Float32Array(0), triangles: new Uint32Array(0) };
    expect(standingSide(nothing, [0, 0, 0])).toBeNull();
  });
});
