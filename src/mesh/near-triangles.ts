import { BLOCK, blockBoxes } from './blocks.ts';

/** Tells which triangles (index of the first corner) have a box that meets `box` (min x, y, z, max x, y, z; mm). */
export function forEachNear(
  positions: Float32Array,
  triangles: Uint32Array,
  box: Float64Array,
  visit: (triangle: number) => void,
): void {
  const boxes = blockBoxes(positions, triangles);
  for (let block = 0; block * 6 < boxes.length; block++) {
    if (boxApart(boxes, block * 6, box)) continue;
    const end = Math.min(triangles.length, (block + 1) * BLOCK * 3);
    for (let i = block * BLOCK * 3; i < end; i += 3) {
      if (!apart(positions, triangles[i] * 3, triangles[i + 1] * 3, triangles[i + 2] * 3, box)) visit(i);
    }
  }
}

function boxApart(boxes: Float32Array, at: number, box: Float64Array): boolean {
  for (let k = 0; k < 3; k++) if (boxes[at + k] > box[k + 3] || boxes[at + 3 + k] < box[k]) return true;
  return false;
}

function apart(p: Float32Array, a: number, b: number, c: number, box: Float64Array): boolean {
  for (let k = 0; k < 3; k++) {
    if (p[a + k] < box[k] && p[b + k] < box[k] && p[c + k] < box[k]) return true;
    if (p[a + k] > box[k + 3] && p[b + k] > box[k + 3] && p[c + k] > box[k + 3]) return true;
  }
  return false;
}
