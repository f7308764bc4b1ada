import { closedBody, type Joint } from '../joint/joint.ts';
import { leastWall } from '../joint/wall.ts';
import type { Plane } from '../math/plane.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import { scale } from '../math/vec3.ts';
import { volumeBeyond } from '../mesh/plane/volume-beyond.ts';
import type { JointedTree } from './joint-step.ts';
import type { Host, SettledPeg } from './settled.ts';

/** Another seam that bounds a part in which a joint stands, where the joint reaches through its face. */
export interface CrossedSeam {
  seamId: string;
  /** How much of the peg would stand in what lies on the other side of that seam, mm³: less only where it comes out of the skin there. */
  overlapMm3: number;
}

/** The other seams that a peg or its socket reaches through. */
export function crossedSeams(
  { pegHost, pegJoint, socketHost, socketJoint }: SettledPeg,
  tree: JointedTree,
): CrossedSeam[] {
  const ofSocket = reachedThrough(socketHost, socketJoint, tree).map(({ seamId, beyond }) => ({
    seamId,
    overlapMm3: volumeBeyond(closedBody(pegJoint, 0), beyond),
  }));
  // Over its own part's edge a peg only touches the face of the part on the other side.
  const ofPeg = reachedThrough(pegHost, pegJoint, tree)
    .filter(({ seamId }) => !ofSocket.some((crossed) => crossed.seamId === seamId))
    .map(({ seamId }) => ({ seamId, overlapMm3: 0 }));
  return [...ofSocket, ...ofPeg];
}

/** Other seams whose face in the joint's part it meets and has a vertex beyond; their planes look out of the part. */
function reachedThrough(
  { partId, part }: Host,
  joint: Joint,
  tree: JointedTree,
): { seamId: string; beyond: Plane }[] {
  const sides = tree.parts.find(({ plain }) => plain.id === partId)?.plain.sides;
  return tree.seams.flatMap(({ cut: { seam, plane } }) => {
    const side = sides?.get(seam.id);
    if (!side || seam.id === joint.of.seamId) return [];
    const beyond = side === 'back' ? plane : { normal: scale(plane.normal, -1), offset: -plane.offset };
    if (!hasVertexBeyond(joint, beyond)) return [];
    const faces = part.patches.filter(({ of }) => of.kind === 'face' && of.seamId === seam.id);
    const runs = faces.map(({ triangles }) => triangles);
    return leastWall(part, runs, joint, TOLERANCES.noWall).wall.among ? [{ seamId: seam.id, beyond }] : [];
  });
}

function hasVertexBeyond(
  { surface: { positions: p } }: Joint,
  { normal: [x, y, z], offset }: Plane,
): boolean {
  for (let i = 0; i < p.length; i += 3)
    if (x * p[i] + y * p[i + 1] + z * p[i + 2] > offset + TOLERANCES.noWall) return true;
  return false;
}
