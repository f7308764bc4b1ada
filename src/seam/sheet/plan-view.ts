import { dot } from '../../math/vec3.ts';
import { blocksOf, blocksWhere } from '../../mesh/near/blocks.ts';
import { coordinate, type Vertices, vertexCount } from '../../mesh/part/vertices.ts';
import { snapDistance } from '../../mesh/plane/sides.ts';
import type { Profile } from './profile.ts';
import { sideOfChain } from './signs.ts';

/** Corners of a mesh seen against a sheet's sweep: where they lie across it, and on which side. */
export interface PlanView {
  /** Per vertex that was placed, mm in the profile's frame. */
  x: Float64Array;
  y: Float64Array;
  /** Per vertex: 1 left of the chain, −1 right of it; 0 while nobody asked. */
  side: Int8Array;
  /** Finds where vertices lie. */
  place(ids: Uint32Array): void;
  /** Which side a vertex is on. */
  sideAt(vertex: number): 1 | -1;
}

/** A view of a mesh's corners; places and sides are found as they are asked for. */
export function planView(vertices: Vertices, profile: Profile): PlanView {
  const count = vertexCount(vertices);
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  const isPlaced = new Uint8Array(count);
  const side = new Int8Array(count);
  const { u, v, origin } = profile.frame;
  const [zeroX, zeroY] = [dot(u, origin), dot(v, origin)];
  const placeOne = (id: number) => {
    if (isPlaced[id] === 1) return;
    isPlaced[id] = 1;
    const px = coordinate(vertices, id, 0);
    const py = coordinate(vertices, id, 1);
    const pz = coordinate(vertices, id, 2);
    x[id] = u[0] * px + u[1] * py + u[2] * pz - zeroX;
    y[id] = v[0] * px + v[1] * py + v[2] * pz - zeroY;
  };
  return {
    x,
    y,
    side,
    place(ids) {
      for (let i = 0; i < ids.length; i++) placeOne(ids[i]);
    },
    sideAt(id) {
      placeOne(id);
      if (side[id] === 0) side[id] = sideOfChain(profile, x[id], y[id]);
      return side[id] as 1 | -1;
    },
  };
}

/** A block of triangles and the segments of the chain that may pass through it. */
export interface MetBlock {
  block: number;
  segments: number[];
}

/** The blocks of a run of triangles that a sheet may pass through; answers none falsely. */
export function blocksMet(vertices: Vertices, triangles: Uint32Array, profile: Profile): MetBlock[] {
  const tree = blocksOf(vertices, triangles);
  const slack = 4 * snapDistance(vertices);
  const seen = new Float64Array(4);
  const meets = (boxes: Float32Array, at: number) => {
    boxSeen(boxes, at, profile, slack, seen);
    for (let j = 0; j + 1 < profile.x.length; j++) if (segmentMeets(profile, j, seen)) return true;
    return false;
  };
  return blocksWhere(tree, meets).map((block) => {
    boxSeen(tree.levels[0], block * 6, profile, slack, seen);
    const segments: number[] = [];
    for (let j = 0; j + 1 < profile.x.length; j++) if (segmentMeets(profile, j, seen)) segments.push(j);
    return { block, segments };
  });
}

/** The rectangle (least x, y, greatest x, y) in which a box is seen. */
function boxSeen(
  boxes: Float32Array,
  at: number,
  { frame: { u, v, origin } }: Profile,
  slack: number,
  seen: Float64Array,
): void {
  for (const [k, axis] of [
    [0, u],
    [1, v],
  ] as const) {
    let middle = -dot(axis, origin);
    let half = slack;
    for (let i = 0; i < 3; i++) {
      middle += (axis[i] * (boxes[at + i] + boxes[at + 3 + i])) / 2;
      half += (Math.abs(axis[i]) * (boxes[at + 3 + i] - boxes[at + i])) / 2;
    }
    seen[k] = middle - half;
    seen[k + 2] = middle + half;
  }
}

/** True where a segment may meet a rectangle: their boxes do, and its line does not leave all corners on one side. */
function segmentMeets({ x, y }: Profile, j: number, box: Float64Array): boolean {
  const [ax, ay, bx, by] = [x[j], y[j], x[j + 1], y[j + 1]];
  if ((ax < box[0] && bx < box[0]) || (ax > box[2] && bx > box[2])) return false;
  if ((ay < box[1] && by < box[1]) || (ay > box[3] && by > box[3])) return false;
  const dx = bx - ax;
  const dy = by - ay;
  const cx = (box[0] + box[2]) / 2 - ax;
  const cy = (box[1] + box[3]) / 2 - ay;
  const half = (Math.abs(dx) * (box[3] - box[1]) + Math.abs(dy) * (box[2] - box[0])) / 2;
  return Math.abs(dx * cy - dy * cx) <= half;
}

/** Gives every vertex its side: blocks that the sheet does not meet have one for all. */
export function fillSides(
  vertices: Vertices,
  runs: readonly Uint32Array[],
  met: readonly (readonly MetBlock[])[],
  view: PlanView,
): void {
  const { side } = view;
  runs.forEach((triangles, r) => {
    const { starts } = blocksOf(vertices, triangles);
    let next = 0;
    for (let block = 0; block + 1 < starts.length; block++) {
      if (met[r][next]?.block === block) {
        next++;
        for (let i = starts[block]; i < starts[block + 1]; i++) view.sideAt(triangles[i]);
      } else if (starts[block] < starts[block + 1]) {
        const all = view.sideAt(triangles[starts[block]]);
        for (let i = starts[block]; i < starts[block + 1]; i++) side[triangles[i]] = all;
      }
    }
  });
}
