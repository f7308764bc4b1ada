import type { Mesh } from '../mesh.ts';
import { NOTHING_ADDED } from '../part/vertices.ts';
import { blocksOf, blocksWhere } from './blocks.ts';

/** Tells which triangles (index of the first corner) have a box that meets `box` (min x, y, z, max x, y, z; mm). */
export function forEachNear(
  { positions: p, triangles: t }: Mesh,
  box: Float64Array,
  visit: (triangle: number) => void,
): void {
  const tree = blocksOf({ positions: p, added: NOTHING_ADDED }, t);
  for (const block of blocksWhere(tree, (boxes, at) => boxesMeet(boxes, at, box))) {
    for (let i = tree.starts[block]; i < tree.starts[block + 1]; i += 3) {
      if (!apart(p, t[i] * 3, t[i + 1] * 3, t[i + 2] * 3, box)) visit(i);
    }
  }
}

function boxesMeet(boxes: Float32Array, at: number, box: Float64Array): boolean {
  for (let k = 0; k < 3; k++) if (boxes[at + k] > box[k + 3] || boxes[at + 3 + k] < box[k]) return false;
  return true;
}

function apart(p: Float32Array, a: number, b: number, c: number, box: Float64Array): boolean {
  for (let k = 0; k < 3; k++) {
    if (p[a + k] < box[k] && p[b + k] < box[k] && p[c + k] < box[k]) return true;
    if (p[a + k] > box[k + 3] && p[b + k] > box[k + 3] && p[c + k] > box[k + 3]) return true;
  }
  return false;
}
