import { TOLERANCES } from '../math/tolerances.ts';
import type { Vec2, Vec3 } from '../math/vec3.ts';
import { isBeyond } from '../mesh/is-beyond.ts';
import { visitNearestFirst } from '../mesh/nearest-first.ts';
import type { Part } from '../mesh/part.ts';
import { nearestToTriangle } from '../mesh/triangle-tree.ts';
import type { Face } from '../seam/face.ts';
import { bodyPlanes, boxBound, hasCornerInside, triangleBound } from './body-planes.ts';
import { type Joint, jointSpec, shapeTree } from './joint.ts';
import { liesWithin, loopGap } from './loop-gap.ts';
import { intoJoint, outOfJoint } from './place-body.ts';

/** How a joint sits in the part that carries it. All lengths mm, points in recentred coordinates. */
export interface Seating {
  /** The rim lies inside the face, clear of its outline. */
  insideFace: boolean;
  /** Nearest pair between the rim and the face outline, in the seam's frame. */
  faceWall: { mm: number; from: Vec2; to: Vec2 };
  /**
   * Least distance between the joint's surface and the rest of the part, 0 when they meet; and where on the part.
   * Looked for up to the face wall for a socket, and for a peg no farther than being local asks.
   */
  wall: { mm: number; at: Vec3 };
  /** True when the joint provably changes the part's face and nothing else. */
  local: boolean;
}

/** Measures a joint against its part: triangles of every patch but the seam's own face and other joints. */
export function seatingOf(part: Part, face: Face, joint: Joint): Seating {
  const faceWall = loopGap(joint.rim, face.loops);
  const insideFace = faceWall.mm > TOLERANCES.localMargin && liesWithin(joint.rim, face.loops);
  const limit = wallLimit(joint, insideFace ? faceWall.mm : joint.peg.lengthMm);
  const { wall, pierced } = leastWall(part, joint, limit);
  const local = insideFace && wall.mm > TOLERANCES.localMargin && !pierced;
  return { insideFace, faceWall, wall, local };
}

/** A socket's wall is wanted to the last; of a peg only whether anything is within the margin. */
const wallLimit = (joint: Joint, mm: number): number =>
  joint.of.role === 'socket' ? mm : Math.min(mm, 2 * TOLERANCES.localMargin);

/**
 * The part's triangle nearest to a joint, looked for up to `limit`; `pierced` when one has a corner inside the joint.
 * Triangles that may lie inside have the least bounds, so they are all seen before the search ends.
 */
function leastWall(
  part: Part,
  joint: Joint,
  limit: number,
): { wall: { mm: number; at: Vec3 }; pierced: boolean } {
  const planes = bodyPlanes(jointSpec(joint, 0), joint.frame);
  const tree = shapeTree(joint);
  // A hair over the limit, so that a wall set by the outline itself is still found on the skin.
  let mm = limit * (1 + 1e-6) + 1e-6;
  let at: Vec3 = joint.frame.foot;
  let pierced = false;
  const bounds = {
    ofBox: (boxes: Float32Array, box: number, reach: number) => boxBound(planes, boxes, box, reach),
    ofTriangle: (corners: Float64Array, reach: number) => triangleBound(planes, corners, reach),
  };
  visitNearestFirst(part, skinsAround(part, joint), bounds, mm, (corners, bound) => {
    pierced ||= bound < 0 && hasCornerInside(planes, corners);
    const local = intoJoint(joint.frame, corners);
    if (mm === 0 || isBeyond(tree, local, mm)) return mm;
    const found = nearestToTriangle(tree, local, mm);
    if (found) {
      mm = found.distance;
      at = outOfJoint(joint.frame, found.onQuery);
    }
    return mm;
  });
  return { wall: { mm: Math.min(mm, limit), at }, pierced };
}

/** All of a part but the seam's own face and other joints. */
const skinsAround = (part: Part, joint: Joint): Uint32Array[] =>
  part.patches
    .filter(({ of }) => of.kind === 'skin' || (of.kind === 'face' && of.seamId !== joint.of.seamId))
    .map(({ triangles }) => triangles);
