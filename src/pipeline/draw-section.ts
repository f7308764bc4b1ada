import { endOf, reachAtFace } from '../joint/parallel-body.ts';
import { clipLoop, type PlaneBox } from '../math/clip-loop.ts';
import type { PlaneFrame } from '../math/plane.ts';
import { add, type Vec3 } from '../math/vec3.ts';
import type { Part, PatchOf } from '../mesh/part/part.ts';
import { sectionFrame, sectionPart, sectionProfile } from '../section/joint-section.ts';
import type { JointSection } from './evaluation.ts';
import type { JointedTree } from './joint-step.ts';
import { added, type SeatedPiece, taken } from './settled.ts';

/** The joint whose section is wanted, and which of its own axes lies across the drawing. */
export interface Focus {
  seamId: string;
  jointId: string;
  across: 'width' | 'height';
}

/** How far around the joint the parts are drawn, in joint sizes: a figure's whole section is no part of a joint's drawing. */
const SURROUNDINGS = 3;

/** Where the plane goes through a joint, in shares of its reach from the axis: an outline that lies in may leave the axis free. */
const BESIDE = [0, 0.2, -0.2, 0.4, -0.4, 0.6, -0.6, 0.8, -0.8];

/** Section of both finished parts through a joint's axis; null where the seam has no such joint. */
export function drawSection(
  tree: JointedTree,
  focus: Focus,
  originMm: readonly number[],
): JointSection | null {
  const seam = tree.seams.find(({ cut }) => cut.seam.id === focus.seamId);
  const joint = seam?.joints.find(({ settled }) => settled.id === focus.jointId);
  if (!joint) return null;
  const [adds, takes] = [added(joint)[0], taken(joint)[0]];
  const partOf = (seated: SeatedPiece | undefined) =>
    tree.parts.find(({ plain }) => plain.id === seated?.host.partId);
  const [male, pegged, socketed] = [adds?.piece, partOf(adds), partOf(takes)];
  if (!male || !pegged || !socketed) return null;
  const { foot, x, y, z } = male.frame;
  const [across, through] = focus.across === 'width' ? [x, y] : [y, x];
  const piece = (does: 'add' | 'take') => (of: PatchOf) =>
    of.kind === 'joint' && of.seamId === focus.seamId && of.jointId === focus.jointId && of.does === does;
  const frames = BESIDE.map((share) => {
    const by = share * reachAtFace(male.body);
    const beside: Vec3 = [foot[0] + by * through[0], foot[1] + by * through[1], foot[2] + by * through[2]];
    return sectionFrame({ foot: beside, across, along: z });
  });
  const isMet = (frame: PlaneFrame) => sectionProfile(pegged.part, frame, piece('add')).length > 0;
  const frame = frames.find(isMet) ?? frames[0];
  const lengthMm = endOf(male.body);
  const reach = SURROUNDINGS * Math.max(lengthMm, 2 * reachAtFace(male.body));
  const box: PlaneBox = { min: [-reach, -reach], max: [reach, lengthMm + reach] };
  const around = (part: Part) =>
    sectionPart(part, frame)
      .map((loop) => clipLoop(loop, box))
      .filter((loop) => loop.length > 0);
  return {
    ...focus,
    frame: { ...frame, origin: add(frame.origin, [originMm[0], originMm[1], originMm[2]]) },
    pegged: around(pegged.part),
    socketed: around(socketed.part),
    pegProfile: sectionProfile(pegged.part, frame, piece('add')),
    socketProfile: sectionProfile(socketed.part, frame, piece('take')),
  };
}
