import { bothEnds } from '../joint/piece.ts';
import { type Part, partOf } from '../mesh/part/part.ts';
import { partId } from '../model/part-ref.ts';
import type { PlainPart } from './cut-step.ts';
import type { SeatedJoint } from './settled.ts';

/** The part that lies loose in a joint of a seam; null where none does. */
export function loosePart(
  seamId: string,
  { settled, pieces, hasLoosePart }: SeatedJoint,
): { plain: PlainPart; part: Part; ofJoint: { seamId: string; jointId: string } } | null {
  if (!hasLoosePart) return null;
  const ofJoint = { seamId, jointId: settled.id };
  const id = partId({ of: 'joint', ...ofJoint });
  const name = `${seamId} ${settled.kind} ${settled.id}`;
  const part = bodyIn(pieces);
  return { plain: { id, name, part, sides: new Map() }, part, ofJoint };
}

/** Kept as long as the joint stands as it does. */
const known = new WeakMap<SeatedJoint['pieces'], Part>();

function bodyIn(pieces: SeatedJoint['pieces']): Part {
  let part = known.get(pieces);
  if (!part) {
    const held = pieces.find(({ holds }) => holds)?.holds;
    if (!held) throw new Error('nothing lies loose in the joint');
    const { positions, triangles } = bothEnds(held);
    const { added } = partOf({ positions, triangles });
    part = { positions, added, patches: [{ of: held.of, triangles }] };
    known.set(pieces, part);
  }
  return part;
}
