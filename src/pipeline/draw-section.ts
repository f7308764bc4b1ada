import type { HostSide } from '../joint/kind.ts';
import { endOf, reachAtFace } from '../joint/parallel-body.ts';
import { clipLoop, type PlaneBox } from '../math/clip-loop.ts';
import type { PlaneFrame } from '../math/plane.ts';
import { add, dot, type Vec3 } from '../math/vec3.ts';
import { type Part, type PatchOf, partOf } from '../mesh/part/part.ts';
import { sectionFrame, sectionPart, sectionProfile } from '../section/joint-section.ts';
import type { FitProfiles, JointSection } from './evaluation.ts';
import type { JointedTree } from './joint-step.ts';
import { type Filling, filling, taken } from './settled.ts';

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
  const finishedOf = (side: HostSide) => {
    const hosted = joint.pieces.find((piece) => piece.in === side);
    return tree.parts.find(({ plain }) => plain.id === hosted?.host.partId);
  };
  const [pegged, socketed] = [finishedOf('pegged'), finishedOf('socketed')];
  if (!pegged || !socketed) return null;
  const [{ piece: first }] = joint.pieces;
  const { foot, x, y, z } = first.frame;
  const fits = filling(joint);
  const lengthMm = Math.max(...fits.map(({ by }) => endOf(by.body)));
  const wide = Math.max(...fits.map(({ by }) => reachAtFace(by.body)));
  const profilesIn = (plane: PlaneFrame) =>
    fits.map((fit) => profilesOf(fit, z, plane, pegged.part, socketed.part));
  const [across, through] = focus.across === 'width' ? [x, y] : [y, x];
  const frames = BESIDE.map((share) => {
    const by = share * wide;
    const beside: Vec3 = [foot[0] + by * through[0], foot[1] + by * through[1], foot[2] + by * through[2]];
    return sectionFrame({ foot: beside, across, along: z });
  });
  const frame = frames.find((one) => profilesIn(one)[0].pegProfile.length > 0) ?? frames[0];
  const reach = SURROUNDINGS * Math.max(lengthMm, 2 * wide);
  const low = taken(joint).length > 1 ? -lengthMm : 0;
  const box: PlaneBox = { min: [-reach, low - reach], max: [reach, lengthMm + reach] };
  const around = (part: Part) =>
    sectionPart(part, frame)
      .map((loop) => clipLoop(loop, box))
      .filter((loop) => loop.length > 0);
  const [own, ...further] = profilesIn(frame);
  const whole = tree.parts.find(
    ({ ofJoint }) => ofJoint?.seamId === focus.seamId && ofJoint.jointId === focus.jointId,
  );
  const held = joint.pieces.some(({ holds }) => holds) ? [own, ...further] : [];
  return {
    ...focus,
    frame: { ...frame, origin: add(frame.origin, [originMm[0], originMm[1], originMm[2]]) },
    pegged: around(pegged.part),
    socketed: around(socketed.part),
    ...own,
    further,
    loose: whole ? sectionPart(whole.part, frame) : held.map(({ pegProfile }) => pegProfile),
  };
}

/** The profiles of what goes into a hole, and of the hole; `z` is the joint's own axis. */
function profilesOf(
  { hole, by }: Filling,
  z: Vec3,
  frame: PlaneFrame,
  pegged: Part,
  socketed: Part,
): FitProfiles {
  const { of, isHollow, body, frame: own } = hole.piece;
  const [hollowed, other] = hole.in === 'socketed' ? [socketed, pegged] : [pegged, socketed];
  const floorMm = isHollow ? body.bottom * dot(own.z, z) : null;
  const isOwn = (does: 'add' | 'take') => (one: PatchOf) =>
    one.kind === 'joint' && one.seamId === of.seamId && one.jointId === of.jointId && one.does === does;
  return {
    pegProfile: hole.holds
      ? sectionProfile(partOf(by.surface), frame, () => true, floorMm)
      : sectionProfile(other, frame, isOwn('add')),
    socketProfile: sectionProfile(hollowed, frame, isOwn('take'), floorMm),
    footMm: floorMm ?? 0,
  };
}
