import { Queue } from '../../math/queue.ts';
import { coordinate, type Vertices } from '../part/vertices.ts';
import { blocksOf, children } from './blocks.ts';

/** Distances (mm) that what lies in a box, or a triangle of nine numbers, cannot be nearer than; past `reach` any will do. */
export interface LowerBounds {
  ofBox(boxes: Float32Array, at: number, reach: number): number;
  ofTriangle(corners: Float64Array, reach: number): number;
}

/**
 * Visits triangles by rising lower bound of their distance to something, opening boxes only as they
 * come up, so that the cost follows what is near and not how much there is (best-first search:
 * Hjaltason and Samet, *Distance browsing in spatial databases*, ACM TODS 24(2), 1999).
 * `visit` gets a triangle's corners, its bound and which run it is of, and answers the distance beyond which nothing
 * matters any more.
 */
export function visitNearestFirst(
  vertices: Vertices,
  runs: readonly Uint32Array[],
  bounds: LowerBounds,
  limit: number,
  visit: (corners: Float64Array, bound: number, run: number) => number,
): void {
  const trees = runs.map((triangles) => blocksOf(vertices, triangles));
  const queue = new Queue<Item>();
  const corners = new Float64Array(9);
  let reach = limit;
  const offerBox = (run: number, level: number, box: number) => {
    const bound = bounds.ofBox(trees[run].levels[level], box * 6, reach);
    if (bound <= reach) queue.push(bound, { run, level, at: box });
  };
  const offerTriangle = (run: number, i: number) => {
    const bound = bounds.ofTriangle(cornersAt(vertices, runs[run], i, corners), reach);
    if (bound <= reach) queue.push(bound, { run, level: TRIANGLE, at: i });
  };
  trees.forEach(({ levels }, run) => {
    if (levels[0].length > 0) offerBox(run, levels.length - 1, 0);
  });
  for (let next = queue.pop(); next && next.bound <= reach; next = queue.pop()) {
    const { run, level, at } = next.item;
    const { starts, levels } = trees[run];
    if (level === TRIANGLE) reach = visit(cornersAt(vertices, runs[run], at, corners), next.bound, run);
    else if (level > 0) {
      for (const box of children(at, levels[level - 1].length / 6)) offerBox(run, level - 1, box);
    } else for (let i = starts[at]; i < starts[at + 1]; i += 3) offerTriangle(run, i);
  }
}

/** In place of a level of boxes. */
const TRIANGLE = -1;

/** A box of a level by number, or a triangle by its first corner. */
interface Item {
  run: number;
  level: number;
  at: number;
}

function cornersAt(
  vertices: Vertices,
  triangles: Uint32Array,
  i: number,
  corners: Float64Array,
): Float64Array {
  for (let k = 0; k < 9; k++) corners[k] = coordinate(vertices, triangles[i + ((k / 3) | 0)], k % 3);
  return corners;
}
