import { clipLoop, type PlaneBox } from '../math/clip-loop.ts';
import { add } from '../math/vec3.ts';
import type { Part, PatchOf } from '../mesh/part/part.ts';
import { sectionFrame, sectionPart, sectionProfile } from '../section/peg-section.ts';
import type { PegSection } from './evaluation.ts';
import type { JointedTree } from './joint-step.ts';

/** The peg whose section is wanted, and which of its sizes lies across the drawing. */
export interface Focus {
  seamId: string;
  pegIndex: number;
  across: 'width' | 'height';
}

/** How far around the peg the parts are drawn, in peg sizes: a figure's whole section is no part of a joint's drawing. */
const SURROUNDINGS = 3;

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
  const { widthMm, heightMm, lengthMm } = peg.peg;
  const reach = SURROUNDINGS * Math.max(widthMm, heightMm, lengthMm);
  const box: PlaneBox = { min: [-reach, -reach], max: [reach, lengthMm + reach] };
  const around = (part: Part) =>
    sectionPart(part, frame)
      .map((loop) => clipLoop(loop, box))
      .filter((loop) => loop.length > 0);
  const joint = (role: 'peg' | 'socket') => (of: PatchOf) =>
    of.kind === 'joint' && of.seamId === focus.seamId && of.pegIndex === focus.pegIndex && of.role === role;
  return {
    ...focus,
    frame: { ...frame, origin: add(frame.origin, [originMm[0], originMm[1], originMm[2]]) },
    pegged: around(pegged.part),
    socketed: around(socketed.part),
    pegProfile: sectionProfile(pegged.part, frame, joint('peg')),
    socketProfile: sectionProfile(socketed.part, frame, joint('socket')),
  };
}
