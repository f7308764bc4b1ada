import type { Vec3 } from '../../math/vec3.ts';
import type { Part, PatchOf } from './part.ts';
import { joinBorders, patchFacts } from './part-facts.ts';
import { coordinate } from './vertices.ts';

/** A piece of a part that bounds some of a face. */
export interface FacePiece {
  /** Corners on the outlines of its faces, recentred mm. */
  corners: Vec3[];
}

/** The pieces of a closed part, connected over its surface, that have some of a face. A hollow counts with what is around it where the face joins the two. */
export function facePieces(part: Part, isFace: (of: PatchOf) => boolean): FacePiece[] {
  const borders = part.patches.map((patch) => patchFacts(part, patch).border);
  const { shellOf } = joinBorders(borders);
  const pieces = new Map<number, FacePiece>();
  part.patches.forEach(({ of }, patch) => {
    if (!isFace(of)) return;
    const { edges, shellOf: ownShell } = borders[patch];
    ownShell.forEach((shell, i) => {
      const root = shellOf(patch, shell);
      const piece = pieces.get(root) ?? { corners: [] };
      pieces.set(root, piece);
      piece.corners.push([0, 1, 2].map((k) => coordinate(part, edges[i * 2], k)) as unknown as Vec3);
    });
  });
  return [...pieces.values()];
}
