import { describe, expect, it } from 'vitest';
import { plane } from '../../../src/math/plane.ts';
import type { Vec3 } from '../../../src/math/vec3.ts';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { partOf } from '../../../src/mesh/part/part.ts';
import { followOutlines } from '../../../src/seam/bounded/follow-outlines.ts';
import { moved, together } from '../../support/simple-solids.ts';

/** A rod of 4 mm that runs from one height to another and leans along x by `lean` mm a mm; many short pieces. */
function rod(x: number, low: number, high: number, lean = 0): Mesh {
  const rings = Math.ceil((high - low) / 0.5);
  const around = 12;
  const positions: number[] = [];
  const triangles: number[] = [];
  for (let k = 0; k <= rings; k++) {
    const z = low + ((high - low) * k) / rings;
    for (let j = 0; j < around; j++) {
      const turn = (2 * Math.PI * j) / around;
      positions.push(x + lean * z + 2 * Math.cos(turn), 2 * Math.sin(turn), z);
    }
  }
  const at = (k: number, j: number) => k * around + (j % around);
  for (let k = 0; k < rings; k++)
    for (let j = 0; j < around; j++)
      triangles.push(at(k, j), at(k, j + 1), at(k + 1, j + 1), at(k, j), at(k + 1, j + 1), at(k + 1, j));
  for (let j = 2; j < around; j++) {
    triangles.push(at(0, 0), at(0, j), at(0, j - 1), at(rings, 0), at(rings, j - 1), at(rings, j));
  }
  return { positions: Float32Array.from(positions), triangles: Uint32Array.from(triangles) };
}

const follow = (mesh: Mesh, from: [Vec3, number], to: [Vec3, number], ...through: Vec3[]) =>
  followOutlines(partOf(mesh), plane(...from), plane(...to), through, 1);

const UP: Vec3 = [0, 0, 1];

describe('outlines followed while a plane is moved', () => {
  it('stay with a limb that leans, past another that comes to stand where it was', () => {
    // The first leans away by 30 mm over the way; the second ends up over where the first began.
    const figure = together(rod(0, -20, 20, 1), moved(rod(30, -20, 20, 1), [0, 0, 0]));
    const [first, second] = follow(figure, [UP, -15], [UP, 15], [-15, 0, -15], [15, 0, -15]);
    expect(Math.hypot(first![0] - 15, first![1])).toBeLessThan(2);
    expect(Math.hypot(second![0] - 45, second![1])).toBeLessThan(2);
    expect([first![2], second![2]].map((z) => Math.abs(z - 15) < 1e-6)).toEqual([true, true]);
  });

  it('stay with a thin limb that leans more than it is wide in a step', () => {
    const figure = together(rod(0, -10, 10, 3), rod(10, -10, 10, 3));
    const [at] = follow(figure, [UP, -7], [UP, 7], [-21, 0, -7]);
    expect(Math.hypot(at![0] - 21, at![1])).toBeLessThan(2);
  });

  it('end with their limb, however near another is', () => {
    const figure = together(rod(0, -20, 5), rod(4.5, -20, 20));
    expect(follow(figure, [UP, 0], [UP, 10], [0, 0, 0])).toEqual([null]);
    expect(follow(figure, [UP, 0], [UP, 10], [4.5, 0, 0])[0]![0]).toBeCloseTo(4.5, 0);
  });

  it('follow a plane that is turned', () => {
    const figure = together(rod(-10, -30, 30), rod(10, -30, 30));
    const tilted: Vec3 = [-Math.sin(0.9), 0, Math.cos(0.9)];
    const [at] = follow(figure, [UP, 0], [tilted, 0], [10, 0, 0]);
    expect(Math.abs(at![0] - 10)).toBeLessThan(2);
    expect(at![2]).toBeCloseTo(at![0] * Math.tan(0.9), 6);
  });

  it('are where they were for a plane that stays', () => {
    const [at] = follow(rod(0, -5, 5), [UP, 1], [UP, 1], [0.5, 0.5, 1]);
    expect(Math.hypot(at![0], at![1])).toBeLessThan(2);
    expect(at![2]).toBe(1);
  });

  it('are none for points on a plane that meets nothing', () => {
    expect(follow(rod(0, -5, 5), [UP, 9], [UP, 0], [0, 0, 9])).toEqual([null]);
  });

  it('try no more planes than there is time for, however long the way', () => {
    const figure = rod(0, -400, 400, 0.1);
    const [at] = follow(figure, [UP, -390], [UP, 390], [-39, 0, -390]);
    expect(Math.abs(at![0] - 39)).toBeLessThan(2);
  });
});
