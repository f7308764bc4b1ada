import { mirroredPlace } from '../math/mirror.ts';
import type { Vec2 } from '../math/vec3.ts';
import { type AskedJoint, FIELDS, outlineIn, withOutline } from '../model/joint.ts';
import type { MirroredSeam } from '../model/mirrored-seam.ts';
import { planeOf, roundTo, type SeamPlane } from '../model/seam-spec.ts';
import { jointKind } from './kinds.ts';

/** Places (mm) and angles (degrees) are kept to a thousand-millionth: jobs stay readable, and nothing can be measured of it. */
const PER_UNIT = 1e9;

/**
 * The mirror image of a joint for the mirror image of its seam: its place if it has one, how it is spun, and an outline of
 * its own; sizes stay. A kind's outline is its own mirror image about its x axis, so that turned like the image of that
 * axis it is the image; one that a person gave is mirrored about it.
 */
export function mirroredJoint(joint: AskedJoint, seam: MirroredSeam, across: SeamPlane): AskedJoint {
  const { at } = joint;
  const mirror = planeOf(across);
  const place = at === 'auto' ? at : mirroredPlace(mirror, at).map((c) => roundTo(c, PER_UNIT));
  const mirrored = { ...joint, at: place as AskedJoint['at'], ...spun(joint, seam) };
  const outline = outlineIn(joint);
  // Run through the other way, its image is counter-clockwise again.
  return outline ? withOutline(mirrored, outline.map(([x, y]): Vec2 => [x, 0 - y]).reverse()) : mirrored;
}

/** Its spin on the mirrored seam, if its kind has one. */
function spun({ kind: name, at, [FIELDS.spin.name]: spinDeg }: AskedJoint, seam: MirroredSeam) {
  const { fields, turnsDeg } = jointKind(name);
  if (!fields.some((field) => field.name === FIELDS.spin.name)) return {};
  const turned = roundTo(seam.spin(spinDeg ?? 0, at), PER_UNIT);
  // Half a turn farther it lies on itself: the lesser angle is the one that a person would have given it.
  const isHalved = turnsDeg === 'any' || (turnsDeg !== 'by-outline' && turnsDeg.includes(180));
  const least = isHalved ? roundTo(turned - 180 * Math.round(turned / 180), PER_UNIT) : turned;
  return spinDeg === undefined && least === 0 ? {} : { [FIELDS.spin.name]: least };
}
