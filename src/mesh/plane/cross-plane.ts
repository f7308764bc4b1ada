import type { Plane } from '../../math/plane.ts';
import { type BlockTree, blocksOf, blocksWhere } from '../near/blocks.ts';
import { coordinate, type Vertices } from '../part/vertices.ts';
import { type Crossing, followPlane, type MixedTriangles } from './crossing.ts';
import { snapDistance } from './sides.ts';

/** Where a plane meets runs of triangles: looks only at the blocks it passes through. */
export function crossPlane(vertices: Vertices, runs: readonly Uint32Array[], plane: Plane): Crossing {
  const snap = snapDistance(vertices);
  const mixed = runs.map((triangles) => mixedNear(vertices, triangles, plane, snap));
  return followPlane(vertices, mixed, plane).crossing;
}

function mixedNear(vertices: Vertices, triangles: Uint32Array, plane: Plane, snap: number): MixedTriangles {
  const tree = blocksOf(vertices, triangles);
  const blocks = blocksWhere(tree, boxMeets(plane, snap));
  const near = new Uint32Array(roomFor(tree, blocks));
  let count = 0;
  for (const block of blocks) {
    const [from, end] = [tree.starts[block], tree.starts[block + 1]];
    count = leaveOutWhole(vertices.positions, plane, snap, triangles, from, end, near, count);
  }
  return mixedAmong(vertices, plane, snap, triangles, near.subarray(0, count));
}

const roomFor = ({ starts }: BlockTree, blocks: readonly number[]): number =>
  blocks.reduce((n, block) => n + (starts[block + 1] - starts[block]) / 3, 0);

/**
 * Adds the triangles of a block that are not seen to lie wholly on one side; those with added vertices are not looked
 * at. Answers the new count. Written out: one in twelve is left, and this is most of the time an outline takes.
 */
function leaveOutWhole(
  p: Float32Array,
  { normal, offset }: Plane,
  snap: number,
  t: Uint32Array,
  from: number,
  end: number,
  near: Uint32Array,
  count: number,
): number {
  const nx = normal[0];
  const ny = normal[1];
  const nz = normal[2];
  const own = p.length;
  let used = count;
  for (let i = from; i < end; i += 3) {
    const u = t[i] * 3;
    const v = t[i + 1] * 3;
    const w = t[i + 2] * 3;
    if (u < own && v < own && w < own) {
      const a = nx * p[u] + ny * p[u + 1] + nz * p[u + 2] - offset;
      const b = nx * p[v] + ny * p[v + 1] + nz * p[v + 2] - offset;
      const c = nx * p[w] + ny * p[w + 1] + nz * p[w + 2] - offset;
      if (a > snap ? b > snap && c > snap : a < -snap && b < -snap && c < -snap) continue;
    }
    near[used++] = i;
  }
  return used;
}

function mixedAmong(
  vertices: Vertices,
  { normal: [nx, ny, nz], offset }: Plane,
  snap: number,
  triangles: Uint32Array,
  near: Uint32Array,
): MixedTriangles {
  const at = new Uint32Array(near.length);
  const sides = new Int8Array(near.length * 3);
  let count = 0;
  for (let n = 0; n < near.length; n++) {
    let sum = 0;
    for (let k = 0; k < 3; k++) {
      const v = triangles[near[n] + k];
      const height =
        nx * coordinate(vertices, v, 0) +
        ny * coordinate(vertices, v, 1) +
        nz * coordinate(vertices, v, 2) -
        offset;
      const side = height > snap ? 1 : height < -snap ? -1 : 0;
      sides[count * 3 + k] = side;
      sum += side;
    }
    if (sum !== 3 && sum !== -3) at[count++] = near[n];
  }
  return { triangles, at: at.subarray(0, count), sides };
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
