import { TOLERANCES } from '../math/tolerances.ts';
import type { Vec2 } from '../math/vec3.ts';
import type { Part } from '../mesh/part/part.ts';
import type { Face } from '../seam/face.ts';
import type { Joint } from './joint.ts';
import { liesWithin, loopGap } from './loop-gap.ts';
import { leastWall, type Wall } from './wall.ts';

/** How a joint sits in the part that carries it. All lengths mm, points in recentred coordinates. */
export interface Seating {
  /** The rim lies inside the face, and there is some wall between it and the outline. */
  insideFace: boolean;
  /** Nearest pair between the rim and the face outline, in the seam's frame. */
  faceWall: { mm: number; from: Vec2; to: Vec2 };
  /** To the rest of the part, still without joints: for a socket up to the face wall, for a peg no farther than being local asks. */
  wall: Wall;
  /** True when the joint provably changes the part's face and nothing else. */
  local: boolean;
}

/** Measures a joint against its part: triangles of every patch but the seam's own face and other joints. */
export function seatingOf(part: Part, face: Face, joint: Joint): Seating {
  const faceWall = loopGap(joint.rim, face.loops);
  const insideFace = faceWall.mm > TOLERANCES.noWall && liesWithin(joint.rim, face.loops);
  const limit = wallLimit(joint, { insideFace, faceWall });
  const { wall, pierced } = leastWall(part, skinsAround(part, joint), joint, limit);
  const clear = Math.min(faceWall.mm, wall.mm);
  const local = insideFace && clear > TOLERANCES.localMargin && !pierced;
  return { insideFace, faceWall, wall, local };
}

/** How far off a wall is looked for, mm: a socket's is wanted to the last; of a peg only whether anything is within the margin. */
export function wallLimit(
  joint: Joint,
  { insideFace, faceWall }: Pick<Seating, 'insideFace' | 'faceWall'>,
): number {
  const mm = insideFace ? faceWall.mm : joint.peg.lengthMm;
  return joint.of.role === 'socket' ? mm : Math.min(mm, 2 * TOLERANCES.localMargin);
}

/** All of a part but the seam's own face and other joints. */
const skinsAround = (part: Part, joint: Joint): Uint32Array[] =>
  part.patches
    .filter(({ of }) => of.kind === 'skin' || (of.kind === 'face' && of.seamId !== joint.of.seamId))
    .map(({ triangles }) => triangles);
