import type { Vec3 } from '../math/vec3.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { isBeyond } from '../mesh/near/is-beyond.ts';
import { visitNearestFirst } from '../mesh/near/nearest-first.ts';
import { nearestToTriangle } from '../mesh/near/triangle-tree.ts';
import type { Vertices } from '../mesh/part/vertices.ts';
import { bodyPlanes, boxBound, hasCornerInside, triangleBound } from './body-planes.ts';
import { lowestOf, type Piece, shapeTree } from './piece.ts';
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
    pierced ||= bound < 0 && hasCornerInside(planes, corners) && hasCornerWithin(tree.mesh, local);
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

/** True where one of a triangle's corners lies above the face and behind every facet of a convex surface, both in the joint's own frame. */
const hasCornerWithin = (surface: Mesh, corners: Float64Array): boolean =>
  [0, 3, 6].some(
    (c) => corners[c + 2] > 0 && isBehindAll(surface, corners[c], corners[c + 1], corners[c + 2]),
  );

function isBehindAll({ positions: p, triangles }: Mesh, x: number, y: number, z: number): boolean {
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [triangles[i] * 3, triangles[i + 1] * 3, triangles[i + 2] * 3];
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const height =
      (x - p[a]) * (uy * vz - uz * vy) +
      (y - p[a + 1]) * (uz * vx - ux * vz) +
      (z - p[a + 2]) * (ux * vy - uy * vx);
    if (height > 0) return false;
  }
  return true;
}
