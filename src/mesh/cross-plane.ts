import type { Plane } from '../math/plane.ts';
import { type BlockTree, blocksOf, blocksWhere } from './blocks.ts';
import { type Crossing, followPlane, type MixedTriangles } from './crossing.ts';
import { snapDistance } from './sides.ts';
import type { Vertices } from './vertices.ts';

/** Where a plane meets runs of triangles: looks only at the blocks it passes through. */
export function crossPlane(vertices: Vertices, runs: readonly Uint32Array[], plane: Plane): Crossing {
  const snap = snapDistance(vertices);
  const mixed = runs.map((triangles) => mixedNear(vertices, triangles, plane, snap));
  return followPlane(vertices, mixed, plane).crossing;
}

function mixedNear(vertices: Vertices, triangles: Uint32Array, plane: Plane, snap: number): MixedTriangles {
  const tree = blocksOf(vertices, triangles);
  const blocks = blocksWhere(tree, boxMeets(plane, snap));
  const room = roomFor(tree, blocks);
  const mixed = { triangles, at: new Uint32Array(room), sides: new Int8Array(room * 3) };
  let count = 0;
  for (const block of blocks) {
    count = gatherMixed(vertices, plane, snap, mixed, tree.starts[block], tree.starts[block + 1], count);
  }
  return { ...mixed, at: mixed.at.subarray(0, count) };
}

const roomFor = ({ starts }: BlockTree, blocks: readonly number[]): number =>
  blocks.reduce((n, block) => n + (starts[block + 1] - starts[block]) / 3, 0);

/** Adds the triangles of a block that are not wholly on one side; answers the new count. Written out: it is all the time an outline takes. */
function gatherMixed(
  { positions: p, added }: Vertices,
  { normal, offset }: Plane,
  snap: number,
  { triangles: t, at, sides }: MixedTriangles,
  from: number,
  end: number,
  count: number,
): number {
  const nx = normal[0];
  const ny = normal[1];
  const nz = normal[2];
  const own = p.length;
  let used = count;
  for (let i = from; i < end; i += 3) {
    let front = 0;
    let back = 0;
    for (let k = 0; k < 3; k++) {
      const v = t[i + k] * 3;
      const h =
        v < own
          ? nx * p[v] + ny * p[v + 1] + nz * p[v + 2] - offset
          : nx * added[v - own] + ny * added[v - own + 1] + nz * added[v - own + 2] - offset;
      const side = h > snap ? 1 : h < -snap ? -1 : 0;
      if (side > 0) front++;
      else if (side < 0) back++;
      sides[used * 3 + k] = side;
    }
    if (front < 3 && back < 3) at[used++] = i;
  }
  return used;
}

/** Tells whether a box meets the plane. */
function boxMeets({ normal, offset }: Plane, snap: number): (boxes: Float32Array, at: number) => boolean {
  const [nx, ny, nz] = normal;
  // The corners farthest along the normal and against it.
  const [x, y, z] = [nx > 0 ? 0 : 3, ny > 0 ? 1 : 4, nz > 0 ? 2 : 5];
  const [fx, fy, fz] = [3 - x, 5 - y, 7 - z];
  return (boxes, at) =>
    nx * boxes[at + x] + ny * boxes[at + y] + nz * boxes[at + z] - offset <= snap &&
    nx * boxes[at + fx] + ny * boxes[at + fy] + nz * boxes[at + fz] - offset >= -snap;
}
