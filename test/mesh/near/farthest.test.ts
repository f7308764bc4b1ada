import { describe, expect, it } from 'vitest';
import { makeRandom } from '../../../src/demo/prng.ts';
import { dot, type Vec3 } from '../../../src/math/vec3.ts';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { farthestAlong } from '../../../src/mesh/near/farthest.ts';
import { type Part, partOf } from '../../../src/mesh/part/part.ts';
import { withVertices } from '../../../src/mesh/part/vertices.ts';
import { lumpySphere, ring } from '../../support/figures.ts';

/** The same by a look at every corner that a triangle uses. */
function plainReach(part: Part, direction: Vec3): number {
  const all = [...part.positions, ...part.added];
  return Math.max(
    ...part.patches.flatMap(({ triangles }) =>
      [...triangles].map((v) => dot([all[v * 3], all[v * 3 + 1], all[v * 3 + 2]], direction)),
    ),
  );
}

const FIGURES: [string, Mesh][] = [
  ['a ring', ring()],
  ['a lumpy ball', lumpySphere(3, 40, 4)],
];

describe('the farthest corner', () => {
  it.each(FIGURES)('of %s is that which a look at all of them finds, seed 21', (_, mesh) => {
    const random = makeRandom(21);
    const part = partOf(mesh);
    for (let i = 0; i < 40; i++) {
      const direction: Vec3 = [random() - 0.5, random() - 0.5, i % 5 === 0 ? 0 : random() - 0.5];
      const corner = farthestAlong(part, direction)!;
      expect(dot(corner, direction)).toBe(plainReach(part, direction));
    }
  });

  it('may be one that a joint added, and is never one that no triangle uses', () => {
    const skin = ring();
    const vertices = withVertices(partOf(skin), Float32Array.of(0, 0, 50, 1, 0, 50, 0, 1, 50, 0, 0, 900));
    const first = skin.positions.length / 3;
    const lid = Uint32Array.of(first, first + 1, first + 2);
    const part: Part = {
      ...vertices,
      patches: [...partOf(skin).patches, { of: { kind: 'skin' }, triangles: lid }],
    };
    expect(farthestAlong(part, [0, 0, 1])).toEqual([0, 0, 50]);
    expect(farthestAlong(part, [0, 0, -1])![2]).toBeCloseTo(-6, 3);
  });

  it('of nothing is none', () => {
    expect(
      farthestAlong(partOf({ positions: new Float32Array(9), triangles: new Uint32Array() }), [1, 0, 0]),
    ).toBe(null);
  });
});
