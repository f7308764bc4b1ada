import { add } from '../math/vec3.ts';
import type { PatchOf } from '../mesh/part.ts';
import { sectionFrame, sectionPart, sectionProfile } from '../section/peg-section.ts';
import type { PegSection } from './evaluation.ts';
import type { JointedTree } from './joint-step.ts';

/** The peg whose section is wanted, and which of its sizes lies across the drawing. */
export interface Focus {
  seamId: string;
  pegIndex: number;
  across: 'width' | 'height';
}

/** Section of both finished parts through a peg's axis; null where the seam has no such peg. */
export function drawSection(tree: JointedTree, focus: Focus, originMm: readonly number[]): PegSection | null {
  const seam = tree.seams.find(({ cut }) => cut.seam.id === focus.seamId);
  const peg = seam?.pegs.find(({ index }) => index === focus.pegIndex);
  if (!peg) return null;
  const { foot, x, y, z } = peg.pegJoint.frame;
  const frame = sectionFrame({ foot, across: focus.across === 'width' ? x : y, along: z });
  const partOf = (id: string) => tree.parts.find(({ plain }) => plain.id === id);
  const pegged = partOf(peg.pegHost.partId);
  const socketed = partOf(peg.socketHost.partId);
  if (!pegged || !socketed) return null;
  const joint = (role: 'peg' | 'socket') => (of: PatchOf) =>
    of.kind === 'joint' && of.seamId === focus.seamId && of.pegIndex === focus.pegIndex && of.role === role;
  return {
    ...focus,
    frame: { ...frame, origin: add(frame.origin, [originMm[0], originMm[1], originMm[2]]) },
    pegged: sectionPart(pegged.part, frame),
    socketed: sectionPart(socketed.part, frame),
    pegProfile: sectionProfile(pegged.part, frame, joint('peg')),
    socketProfile: sectionProfile(socketed.part, frame, joint('socket')),
  };
}
