import { type Seating, wallLimit } from '../joint/host.ts';
import type { Piece } from '../joint/piece.ts';
import { leastWall, type Wall } from '../joint/wall.ts';
import { isOfFacet, type Part, type Patch, type PatchOf } from '../mesh/part/part.ts';

/** The least wall around a socket in its finished part, and to what. */
export interface FinishedWall extends Wall {
  /** The skin, another seam's face or another joint; null where nothing is nearer than the outline of the socket's own face. */
  to: PatchOf | null;
}

/**
 * Measures a socket against its finished part: all of it but the socket itself and the facet it stands on. What was
 * measured of the part before it had joints stands as long as the triangles found then are still there, so that only
 * what joining made is looked at anew.
 */
export function finishedWall(plain: Part, seating: Seating, finished: Part, piece: Piece): FinishedWall {
  const { wall } = seating;
  // What the socket met or swallowed may be gone.
  if (wall.mm === 0) return { ...wall, to: patchOf(plain.patches, wall.among) };
  const around = finished.patches.filter(({ of }) => isAround(of, piece));
  const stands = wall.among === null || around.some(({ triangles }) => triangles === wall.among);
  const made = stands ? around.filter((patch) => !isIn(plain, patch)) : around;
  const limit = stands ? wall.mm : wallLimit(piece, seating);
  const runs = made.map(({ triangles }) => triangles);
  const { wall: found } = leastWall(finished, runs, piece, limit);
  const least = stands && (found.among === null || found.mm >= wall.mm) ? wall : found;
  return { ...least, to: patchOf(around, least.among) };
}

const patchOf = (patches: readonly Patch[], triangles: Uint32Array | null): PatchOf | null =>
  patches.find((patch) => patch.triangles === triangles)?.of ?? null;

const isIn = (part: Part, { triangles }: Patch): boolean =>
  part.patches.some((patch) => patch.triangles === triangles);

function isAround(of: PatchOf, piece: Piece): boolean {
  const { seamId, jointId } = piece.of;
  if (of.kind === 'face') return !isOfFacet(of, seamId, piece.facet);
  return !(of.kind === 'joint' && of.seamId === seamId && of.jointId === jointId);
}
