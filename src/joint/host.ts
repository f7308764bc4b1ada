import { type Loop, nearestOnLoops, windingAt } from '../math/polygon.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import type { Vec2, Vec3 } from '../math/vec3.ts';
import { forEachNear } from '../mesh/near-triangles.ts';
import type { Part } from '../mesh/part.ts';
import { nearestToTriangle } from '../mesh/triangle-tree.ts';
import type { Face } from '../seam/face.ts';
import { bodyPlanes, distanceBound, hasCornerInside } from './body-planes.ts';
import { type Joint, jointSpec, shapeTree } from './joint.ts';
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
  const insideFace = faceWall.mm > TOLERANCES.localMargin && insideLoops(joint.rim, face.loops);
  const limit = wallLimit(joint, insideFace ? faceWall.mm : joint.peg.lengthMm);
  const { near, pierced } = nearTriangles(part, joint, limit);
  const wall = leastDistance(joint, near, limit);
  const local = insideFace && wall.mm > TOLERANCES.localMargin && !pierced;
  return { insideFace, faceWall, wall, local };
}

/** A socket's wall is wanted to the last; of a peg only whether anything is within the margin. */
const wallLimit = (joint: Joint, mm: number): number =>
  joint.of.role === 'socket' ? mm : Math.min(mm, 2 * TOLERANCES.localMargin);

/** Nearest points of a rim and the face's outline: checked from the corners of each, as the least is at one. */
export function loopGap(rim: Loop, loops: readonly Loop[]): { mm: number; from: Vec2; to: Vec2 } {
  let best = { mm: Number.POSITIVE_INFINITY, from: [0, 0] as Vec2, to: [0, 0] as Vec2 };
  for (let i = 0; i < rim.length; i += 2) {
    const { distance, at } = nearestOnLoops(loops, rim[i], rim[i + 1]);
    if (distance < best.mm) best = { mm: distance, from: [rim[i], rim[i + 1]], to: at };
  }
  for (const loop of loops) {
    for (let i = 0; i < loop.length; i += 2) {
      const { distance, at } = nearestOnLoops([rim], loop[i], loop[i + 1]);
      if (distance < best.mm) best = { mm: distance, from: at, to: [loop[i], loop[i + 1]] };
    }
  }
  return best;
}

/** True when all of a rim lies in material and no outline lies within the rim. */
function insideLoops(rim: Loop, loops: readonly Loop[]): boolean {
  for (let i = 0; i < rim.length; i += 2) if (windingAt(loops, rim[i], rim[i + 1]) !== 1) return false;
  return loops.every((loop) => windingAt([rim], loop[0], loop[1]) === 0);
}

/** A triangle near a joint: its corners (nine numbers), and a distance it cannot be nearer than. */
interface NearTriangle {
  corners: Float64Array;
  bound: number;
}

/** The part's triangles that may be within `reach` of a joint, nearest bound first; `pierced` when one has a corner inside it. */
function nearTriangles(part: Part, joint: Joint, reach: number): { near: NearTriangle[]; pierced: boolean } {
  const box = boxAround(joint.surface.positions, reach);
  const planes = bodyPlanes(jointSpec(joint, 0), joint.frame);
  const near: NearTriangle[] = [];
  const corners = new Float64Array(9);
  let pierced = false;
  for (const { of, triangles: t } of part.patches) {
    if (of.kind === 'joint' || (of.kind === 'face' && of.seamId === joint.of.seamId)) continue;
    forEachNear(part.positions, t, box, (i) => {
      for (let c = 0; c < 3; c++) {
        const v = t[i + c] * 3;
        for (let k = 0; k < 3; k++) corners[c * 3 + k] = part.positions[v + k];
      }
      const bound = distanceBound(planes, corners);
      if (bound > reach) return;
      pierced ||= bound < 0 && hasCornerInside(planes, corners);
      near.push({ corners: corners.slice(), bound });
    });
  }
  return { near: near.sort((a, b) => a.bound - b.bound), pierced };
}

function boxAround(positions: Float32Array, reach: number): Float64Array {
  const box = Float64Array.of(Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity);
  for (let i = 0; i < positions.length; i++) {
    const k = i % 3;
    box[k] = Math.min(box[k], positions[i] - reach);
    box[k + 3] = Math.max(box[k + 3], positions[i] + reach);
  }
  return box;
}

function leastDistance(joint: Joint, near: readonly NearTriangle[], limit: number): { mm: number; at: Vec3 } {
  const tree = shapeTree(joint);
  // A hair over the limit, so that a wall set by the outline itself is still found on the skin.
  let mm = limit * (1 + 1e-6) + 1e-6;
  let at: Vec3 = joint.frame.foot;
  for (const { corners, bound } of near) {
    if (bound >= mm || mm === 0) break;
    const found = nearestToTriangle(tree, intoJoint(joint.frame, corners), mm);
    if (!found) continue;
    mm = found.distance;
    at = outOfJoint(joint.frame, found.onQuery);
  }
  return { mm: Math.min(mm, limit), at };
}
