import type { Plane } from '../math/plane.ts';
import { type BlockTree, blocksOf, blocksWhere } from './blocks.ts';
import { type Crossing, followPlane, type MixedTriangles } from './crossing.ts';
import { sideOf, snapDistance } from './sides.ts';
import type { Vertices } from './vertices.ts';

/** Where a plane meets runs of triangles: looks only at the blocks it passes through. */
export function crossPlane(vertices: Vertices, runs: readonly Uint32Array[], plane: Plane): Crossing {
  const snap = snapDistance(vertices);
  const mixed = runs.map((triangles) => mixedNear(vertices, triangles, plane, snap));
  return followPlane(vertices, mixed, plane).crossing;
}

function mixedNear(vertices: Vertices, triangles: Uint32Array, plane: Plane, snap: number): MixedTriangles {
  const tree = blocksOf(vertices, triangles);
  const blocks = blocksWhere(tree, (boxes, box) => boxMeetsPlane(boxes, box, plane, snap));
  const room = roomFor(tree, blocks);
  const at = new Uint32Array(room);
  const sides = new Int8Array(room * 3);
  let count = 0;
  for (const block of blocks) {
    for (let i = tree.starts[block]; i < tree.starts[block + 1]; i += 3) {
      const a = sideOf(vertices, triangles[i], plane, snap);
      const b = sideOf(vertices, triangles[i + 1], plane, snap);
      const c = sideOf(vertices, triangles[i + 2], plane, snap);
      const sum = a + b + c;
      if (sum === 3 || sum === -3) continue;
      at[count] = i;
      sides[count * 3] = a;
      sides[count * 3 + 1] = b;
      sides[count * 3 + 2] = c;
      count++;
    }
  }
  return { triangles, at: at.subarray(0, count), sides };
}

const roomFor = ({ starts }: BlockTree, blocks: readonly number[]): number =>
  blocks.reduce((n, block) => n + (starts[block + 1] - starts[block]) / 3, 0);

function boxMeetsPlane(boxes: Float32Array, at: number, { normal, offset }: Plane, snap: number): boolean {
  let low = -offset;
  let high = -offset;
  for (let k = 0; k < 3; k++) {
    const a = normal[k] * boxes[at + k];
    const b = normal[k] * boxes[at + 3 + k];
    low += Math.min(a, b);
    high += Math.max(a, b);
  }
  return low <= snap && high >= -snap;
}
