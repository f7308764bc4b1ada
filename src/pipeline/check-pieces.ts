import { type Finding, finding } from '../check/finding.ts';
import { loopArea } from '../math/polygon.ts';
import { add, type Vec3 } from '../math/vec3.ts';
import { type FacePiece, facePieces } from '../mesh/part/face-pieces.ts';
import { facetsOf, type PatchOf } from '../mesh/part/part.ts';
import { joinShells, newShells, rootOf } from '../mesh/topology/shells.ts';
import { type Cut, findFace } from '../seam/cut.ts';
import type { CutSeam } from './cut-step.ts';

/**
 * Tells where a seam leaves one of its sides in more pieces than the faces on it held together before: two legs of one
 * body, say. Bodies that were apart already, each cut through, are not told.
 */
export function checkPieces({ seam, cut }: CutSeam, originMm: Vec3): Finding[] {
  return fallenSides(cut, seam.id).map(({ side, pieces, at }) => {
    const where = { seamId: seam.id, at: add(at, originMm) };
    return finding('part-in-pieces', 'warning', { part: seam.names[side], pieces }, where);
  });
}

interface FallenSide {
  side: 'front' | 'back';
  pieces: number;
  /** On the least of them, recentred mm. */
  at: Vec3;
}

/** Kept as long as the cut is. */
const known = new WeakMap<Cut, FallenSide[]>();

function fallenSides(cut: Cut, seamId: string): FallenSide[] {
  let sides = known.get(cut);
  if (!sides) {
    sides = findFallenSides(cut, seamId);
    known.set(cut, sides);
  }
  return sides;
}

function findFallenSides(cut: Cut, seamId: string): FallenSide[] {
  // Each piece has a face of its own: where there is one face nothing has to be looked for.
  if (facesOn(cut, 'front', seamId) < 2 && facesOn(cut, 'back', seamId) < 2) return [];
  const isFace = (of: PatchOf) => facetsOf(of).some((one) => one.seamId === seamId);
  const front = facePieces(cut.front, isFace);
  const back = facePieces(cut.back, isFace);
  if (front.length < 2 && back.length < 2) return [];
  const before = joinedBefore(front, back);
  const told = (side: 'front' | 'back', pieces: readonly FacePiece[]) => {
    if (pieces.length <= before) return [];
    const least = pieces.reduce((a, b) => (b.corners.length < a.corners.length ? b : a));
    return [{ side, pieces: pieces.length, at: least.corners[0] }];
  };
  return [...told('front', front), ...told('back', back)];
}

/** How many faces a side has of its seam; those of several facets may hang together. */
const facesOn = (cut: Cut, side: 'front' | 'back', seamId: string): number =>
  cut.facets.reduce((sum, { frame }, facet) => {
    const face = findFace(cut[side], seamId, facet, frame, side);
    return sum + (face?.loops.filter((loop) => loopArea(loop) > 0).length ?? 0);
  }, 0);

/** How many bodies the pieces of both sides were: those that share a corner of a face were one. */
function joinedBefore(front: readonly FacePiece[], back: readonly FacePiece[]): number {
  const pieces = [...front, ...back];
  const bodies = newShells(pieces.length);
  const at = new Map<string, number>();
  pieces.forEach(({ corners }, piece) => {
    for (const corner of corners) {
      const key = corner.join();
      const other = at.get(key);
      if (other === undefined) at.set(key, piece);
      else joinShells(bodies, other, piece);
    }
  });
  return pieces.filter((_, piece) => rootOf(bodies, piece) === piece).length;
}
