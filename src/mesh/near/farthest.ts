import type { Vec3 } from '../../math/vec3.ts';
import type { Part } from '../part/part.ts';
import { coordinate, type Vertices } from '../part/vertices.ts';
import { type BlockTree, blocksOf, firstChild } from './blocks.ts';

/** A corner by its number, and how far along the direction it lies, mm. */
interface Farthest {
  corner: number;
  reach: number;
}

/**
 * The corner of a part that lies farthest along a direction of any length, mm, recentred coordinates; null for a part
 * without triangles. It is sought through the boxes over its triangles, the farthest first: the cost follows what lies near
 * that end, not the size of the part.
 */
export function farthestAlong(part: Part, direction: Vec3): Vec3 | null {
  let found: Farthest = { corner: -1, reach: Number.NEGATIVE_INFINITY };
  for (const { triangles } of part.patches) {
    const tree = blocksOf(part, triangles);
    if (triangles.length > 0) found = farthestIn(part, triangles, tree, direction, found);
  }
  const { corner } = found;
  if (corner < 0) return null;
  return [coordinate(part, corner, 0), coordinate(part, corner, 1), coordinate(part, corner, 2)];
}

function farthestIn(
  vertices: Vertices,
  triangles: Uint32Array,
  { starts, levels }: BlockTree,
  direction: Vec3,
  before: Farthest,
): Farthest {
  let found = before;
  const open = (level: number, box: number): void => {
    if (level === 0) {
      found = farthestCorner(vertices, triangles, starts[box], starts[box + 1], direction, found);
      return;
    }
    const below = levels[level - 1];
    const from = firstChild(box);
    const to = Math.min(below.length / 6, firstChild(box + 1));
    let first = from;
    let most = Number.NEGATIVE_INFINITY;
    for (let at = from; at < to; at++) {
      const reach = reachOfBox(below, at * 6, direction);
      if (reach > most) [first, most] = [at, reach];
    }
    if (most > found.reach) open(level - 1, first);
    for (let at = from; at < to; at++) {
      if (at !== first && reachOfBox(below, at * 6, direction) > found.reach) open(level - 1, at);
    }
  };
  open(levels.length - 1, 0);
  return found;
}

/** No corner in the box reaches farther along the direction than this. */
const reachOfBox = (boxes: Float32Array, at: number, [x, y, z]: Vec3): number =>
  x * boxes[x > 0 ? at + 3 : at] + y * boxes[y > 0 ? at + 4 : at + 1] + z * boxes[z > 0 ? at + 5 : at + 2];

function farthestCorner(
  { positions, added }: Vertices,
  triangles: Uint32Array,
  from: number,
  to: number,
  [x, y, z]: Vec3,
  before: Farthest,
): Farthest {
  let { corner, reach } = before;
  for (let i = from; i < to; i++) {
    const at = triangles[i] * 3;
    const places = at < positions.length ? positions : added;
    const p = at < positions.length ? at : at - positions.length;
    const along = x * places[p] + y * places[p + 1] + z * places[p + 2];
    if (along > reach) {
      corner = triangles[i];
      reach = along;
    }
  }
  return { corner, reach };
}
