import { closedBody, type Piece } from '../joint/piece.ts';
import { leastWall } from '../joint/wall.ts';
import type { Plane } from '../math/plane.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import { dot, scale } from '../math/vec3.ts';
import { isOfFacet } from '../mesh/part/part.ts';
import { volumeBeyond } from '../mesh/plane/volume-beyond.ts';
import type { JointedTree } from './joint-step.ts';
import { added, filling, type SeatedJoint, type SeatedPiece } from './settled.ts';

/** Another seam that bounds a part in which a joint stands, where the joint reaches through its face. */
export interface CrossedSeam {
  seamId: string;
  /** How much of what the joint puts in would stand in what lies on the other side of that seam, mm³: less only where it comes out of the skin there. */
  overlapMm3: number;
}

/** The other seams that a joint reaches through. */
export function crossedSeams(joint: SeatedJoint, tree: JointedTree): CrossedSeam[] {
  const crossed: CrossedSeam[] = [];
  const isNew = ({ seamId }: { seamId: string }) => !crossed.some((one) => one.seamId === seamId);
  for (const { hole, by } of filling(joint))
    for (const { seamId, beyond } of reachedThrough(hole, tree).filter(isNew))
      crossed.push({ seamId, overlapMm3: volumeBeyond(closedBody(by, 0), beyond) });
  // Over its own part's edge what is added only touches the face of the part on the other side.
  for (const { seamId } of added(joint)
    .flatMap((seated) => reachedThrough(seated, tree))
    .filter(isNew))
    crossed.push({ seamId, overlapMm3: 0 });
  return crossed;
}

/** Other seams whose face in the piece's part it meets and has a vertex beyond; their planes look out of the part. */
function reachedThrough(
  { host: { partId, part }, piece }: SeatedPiece,
  tree: JointedTree,
): { seamId: string; beyond: Plane }[] {
  const sides = tree.parts.find(({ plain }) => plain.id === partId)?.plain.sides;
  return tree.seams.flatMap(({ cut: { seam, cut } }) => {
    const side = sides?.get(seam.id);
    if (!side) return [];
    return cut.facets.flatMap(({ frame: { n, origin } }, facet) => {
      if (seam.id === piece.of.seamId && facet === piece.facet) return [];
      const normal = side === 'back' ? n : scale(n, -1);
      const beyond = { normal, offset: dot(normal, origin) };
      if (!hasVertexBeyond(piece, beyond)) return [];
      const faces = part.patches.filter(
        ({ of }) => isOfFacet(of, seam.id, facet) && !isOfFacet(of, piece.of.seamId, piece.facet),
      );
      const runs = faces.map(({ triangles }) => triangles);
      return leastWall(part, runs, piece, TOLERANCES.noWall).wall.among ? [{ seamId: seam.id, beyond }] : [];
    });
  });
}

function hasVertexBeyond(
  { surface: { positions: p } }: Piece,
  { normal: [x, y, z], offset }: Plane,
): boolean {
  for (let i = 0; i < p.length; i += 3)
    if (x * p[i] + y * p[i + 1] + z * p[i + 2] > offset + TOLERANCES.noWall) return true;
  return false;
}
