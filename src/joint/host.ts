import type { Loop } from '../math/polygon.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import type { Vec2 } from '../math/vec3.ts';
import { isOfFacet, type Part } from '../mesh/part/part.ts';
import { liesWithin, loopGap } from './loop-gap.ts';
import { endOf } from './parallel-body.ts';
import type { Piece } from './piece.ts';
import { leastWall, type Wall } from './wall.ts';

/** How a piece of a joint sits in its part. All lengths mm, points in recentred coordinates. */
export interface Seating {
  /** The rim lies inside the face, and there is some wall between it and the outline. */
  insideFace: boolean;
  /** Nearest pair between the rim and the face outline, in the seam's frame. */
  faceWall: { mm: number; from: Vec2; to: Vec2 };
  /** To the rest of the part, still without joints: for what is taken up to the face wall, for what is added no farther than being local asks. */
  wall: Wall;
  /** True when the piece provably changes the part's face and nothing else. */
  local: boolean;
}

/**
 * Measures a piece against its part: triangles of every patch but the facet it stands on and other joints. `room` are the
 * outlines within which it may stand.
 */
export function seatingOf(part: Part, room: readonly Loop[], piece: Piece): Seating {
  const faceWall = loopGap(piece.rim, room);
  const insideFace = faceWall.mm > TOLERANCES.noWall && liesWithin(piece.rim, room);
  const limit = wallLimit(piece, { insideFace, faceWall });
  const { wall, pierced } = leastWall(part, skinsAround(part, piece), piece, limit);
  const clear = Math.min(faceWall.mm, wall.mm);
  const local = insideFace && clear > TOLERANCES.localMargin && !pierced;
  return { insideFace, faceWall, wall, local };
}

/** How far off a wall is looked for, mm: that of what is taken is wanted to the last; of what is added only whether anything is within the margin. */
export function wallLimit(
  piece: Piece,
  { insideFace, faceWall }: Pick<Seating, 'insideFace' | 'faceWall'>,
): number {
  const mm = insideFace ? Math.hypot(faceWall.mm, depthOf(piece)) : endOf(piece.body);
  return piece.of.does === 'take' ? mm : Math.min(mm, 2 * TOLERANCES.localMargin);
}

/** How far under its part's face a piece begins, mm. */
const depthOf = ({ isHollow, body, faceMm }: Piece): number => (isHollow ? body.bottom - faceMm : 0);

/** All of a part but the facet that the piece stands on and other joints. */
const skinsAround = (part: Part, { of: { seamId }, facet }: Piece): Uint32Array[] =>
  part.patches
    .filter(({ of }) => of.kind === 'skin' || (of.kind === 'face' && !isOfFacet(of, seamId, facet)))
    .map(({ triangles }) => triangles);
