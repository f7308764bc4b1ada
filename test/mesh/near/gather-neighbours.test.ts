import { describe, expect, it } from 'vitest';
import { makeRandom } from '../../../src/demo/prng.ts';
import { subdivide } from '../../../src/demo/subdivide.ts';
import type { Mesh } from '../../../src/mesh/mesh.ts';
import { blocksOf } from '../../../src/mesh/near/blocks.ts';
import { gatherNeighbours } from '../../../src/mesh/near/gather-neighbours.ts';
import { lumpySphere } from '../../support/figures.ts';

const figure = lumpySphere(3, 20, 6, 0.2);
const scattered = shuffled(figure);

/** The same figure with its triangles in a drawn order. */
function shuffled({ positions, triangles }: Mesh): Mesh {
  const random = makeRandom(95);
  const order = Uint32Array.from({ length: triangles.length / 3 }, (_, i) => i);
  for (let i = order.length - 1; i > 0; i--) {
    const j = Math.floor(random() * (i + 1));
    [order[i], order[j]] = [order[j], order[i]];
  }
  return {
    positions,
    triangles: Uint32Array.from([...order].flatMap((t) => [...triangles.subarray(t * 3, t * 3 + 3)])),
  };
}

const corners = ({ positions, triangles }: Mesh): string[] =>
  Array.from({ length: triangles.length / 3 }, (_, t) =>
    [0, 1, 2]
      .map((k) => positions.subarray(triangles[t * 3 + k] * 3, triangles[t * 3 + k] * 3 + 3).join())
      .join(' '),
  ).sort();

/** Of a level's boxes, mm. */
function meanWidth(mesh: Mesh, level = 0): number {
  const { levels } = blocksOf({ positions: mesh.positions, added: new Float32Array(0) }, mesh.triangles);
  const boxes = levels[level];
  let sum = 0;
  for (let at = 0; at < boxes.length; at += 6) {
    sum += Math.hypot(...[0, 1, 2].map((k) => boxes[at + 3 + k] - boxes[at + k]));
  }
  return sum / (boxes.length / 6);
}

describe('neighbours gathered', () => {
  it('leaves a figure whose order is good as it is', () => {
    expect(gatherNeighbours(figure)).toBe(figure);
  });

  it('keeps every triangle of a scattered one, bit for bit and turned the same way, in blocks as small as a good order has', () => {
    const gathered = gatherNeighbours(scattered);
    expect(gathered).not.toBe(scattered);
    expect(corners(gathered)).toEqual(corners(scattered));
    expect(gathered.positions).toHaveLength(figure.positions.length);
    expect(meanWidth(scattered)).toBeGreaterThan(10 * meanWidth(gathered));
    expect(meanWidth(gathered)).toBeLessThan(3 * meanWidth(figure));
  });

  it('gathers the blocks of a scattered figure whose triangles were divided one by one', () => {
    const coarse = shuffled(lumpySphere(3, 20, 4, 0.2));
    let fine = subdivide({ positions: Float64Array.from(coarse.positions), triangles: coarse.triangles });
    for (let i = 0; i < 2; i++) fine = subdivide(fine);
    const divided = { positions: Float32Array.from(fine.positions), triangles: fine.triangles };
    const gathered = gatherNeighbours(divided);
    expect(meanWidth(divided)).toBeLessThan(2 * meanWidth(gathered));
    expect(meanWidth(divided, 1)).toBeGreaterThan(5 * meanWidth(gathered, 1));
    expect(corners(gathered)).toEqual(corners(divided));
  });
});
