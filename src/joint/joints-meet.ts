import { boundsOf } from '../mesh/measure.ts';
import { cornersOf, nearestToTriangle } from '../mesh/near/triangle-tree.ts';
import { hasCornerWithin } from './lies-under.ts';
import { floorOf, type Piece, shapeTree } from './piece.ts';
import { intoJoint } from './place-body.ts';

/** True where pieces of two joints come nearer to each other than `apart` (mm), or one stands within the other. */
export function jointsMeet(a: Piece, b: Piece, apart: number): boolean {
  if (areBoxesApart(a, b, apart)) return false;
  // Bodies whose surfaces keep apart can still lie one within the other.
  if (standsWithin(a, b) || standsWithin(b, a)) return true;
  const tree = shapeTree(a);
  const corners = new Float64Array(9);
  for (let t = 0; t < b.surface.triangles.length / 3; t++) {
    if (nearestToTriangle(tree, intoJoint(a.frame, cornersOf(b.surface, t, corners)), apart)) return true;
  }
  return false;
}

function areBoxesApart(a: Piece, b: Piece, apart: number): boolean {
  const [one, other] = [boundsOf(a.surface), boundsOf(b.surface)];
  return [0, 1, 2].some((k) => one.min[k] - apart > other.max[k] || other.min[k] - apart > one.max[k]);
}

/** True where a joint's farthest vertex, its last, is within the other's body. */
function standsWithin({ surface: { positions } }: Piece, around: Piece): boolean {
  const tip = positions.subarray(positions.length - 3);
  return hasCornerWithin(
    around.shape,
    intoJoint(around.frame, Float64Array.of(...tip, ...tip, ...tip)),
    floorOf(around),
  );
}
