import type { Vec3 } from '../../math/vec3.ts';
import { blocksOf, blocksWhere } from '../../mesh/near/blocks.ts';
import { joinIndices } from '../../mesh/part/join-indices.ts';
import type { Part } from '../../mesh/part/part.ts';

/**
 * What of a part's surface lies about a place, no farther than `reachMm`, and a little more: open at its edge, for planes
 * that are to be tried there one after the other.
 */
export function surroundings(part: Part, place: Vec3, reachMm: number): Part {
  const patches = part.patches.flatMap(({ of, triangles }) => {
    const tree = blocksOf(part, triangles);
    const near = blocksWhere(tree, (boxes, at) => boxSquared(boxes, at, place) <= reachMm * reachMm);
    const runs = near.map((block) => triangles.subarray(tree.starts[block], tree.starts[block + 1]));
    return runs.length > 0 ? [{ of, triangles: joinIndices(runs) }] : [];
  });
  return { ...part, patches };
}

/** Distance from a place to a box, squared. */
function boxSquared(boxes: Float32Array, at: number, place: Vec3): number {
  let square = 0;
  for (let k = 0; k < 3; k++) {
    const out = Math.max(boxes[at + k] - place[k], 0, place[k] - boxes[at + 3 + k]);
    square += out * out;
  }
  return square;
}
