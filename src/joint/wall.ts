import type { Vec3 } from '../math/vec3.ts';
import { isBeyond } from '../mesh/near/is-beyond.ts';
import { visitNearestFirst } from '../mesh/near/nearest-first.ts';
import { nearestToTriangle } from '../mesh/near/triangle-tree.ts';
import type { Vertices } from '../mesh/part/vertices.ts';
import { bodyPlanes, boxBound, triangleBound } from './body-planes.ts';
import { hasCornerWithin } from './lies-under.ts';
import { floorOf, lowestOf, type Piece, shapeTree } from './piece.ts';
import { intoJoint, outOfJoint } from './place-body.ts';

/** Least distance between a joint and something else of its part, 0 where they meet or it is within the joint. */
export interface Wall {
  mm: number;
  /** Where that is on the other surface, recentred mm. */
  at: Vec3;
  /** The triangles it is among; null where nothing is nearer than was looked for. */
  among: Uint32Array | null;
}

/**
 * The triangle nearest to a joint among runs of a part's triangles, looked for up to `limit` (mm); `pierced` when one
 * has a corner inside the joint. Triangles that may lie inside have the least bounds, so they are all seen before the
 * search ends.
 */
export function leastWall(
  vertices: Vertices,
  runs: readonly Uint32Array[],
  piece: Piece,
  limit: number,
): { wall: Wall; pierced: boolean } {
  const planes = bodyPlanes(piece.body, piece.frame, lowestOf(piece));
  const tree = shapeTree(piece);
  // A hair over the limit, so that a wall set by the outline itself is still found on the skin.
  let mm = limit * (1 + 1e-6) + 1e-6;
  let at: Vec3 = piece.frame.foot;
  let among: Uint32Array | null = null;
  let pierced = false;
  const bounds = {
    ofBox: (boxes: Float32Array, box: number, reach: number) => boxBound(planes, boxes, box, reach),
    ofTriangle: (corners: Float64Array, reach: number) => triangleBound(planes, corners, reach),
  };
  visitNearestFirst(vertices, runs, bounds, mm, (corners, bound, run) => {
    const local = intoJoint(piece.frame, corners);
    pierced ||= bound < 0 && hasCornerWithin(piece.shape, local, floorOf(piece));
    if (mm === 0 || isBeyond(tree, local, mm)) return mm;
    const found = nearestToTriangle(tree, local, mm);
    if (found) {
      mm = found.distance;
      at = outOfJoint(piece.frame, found.onQuery);
      among = runs[run];
    }
    return mm;
  });
  return { wall: { mm: pierced ? 0 : Math.min(mm, limit), at, among }, pierced };
}
