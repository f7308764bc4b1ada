import { TOLERANCES } from '../math/tolerances.ts';
import type { Vec2 } from '../math/vec3.ts';
import type { ResolvedPeg } from '../model/resolved-peg.ts';
import type { BodySpec } from './parallel-body.ts';

/**
 * The tapered peg of rounded-rectangle section. Its core is a frustum whose side planes
 * lie one edge radius inside the peg's; width and height are measured at the face.
 * With draft α and edge radius r a side plane is x cos α + z sin α = (w/2) cos α, the
 * core's lies r inside it, so the core's half width at the face is w/2 − r / cos α.
 */

type Shape = Pick<
  ResolvedPeg,
  'widthMm' | 'heightMm' | 'lengthMm' | 'draftDeg' | 'edgeRadiusMm' | 'sideGapMm' | 'endGapMm'
>;

/** Height the socket's core must have so that the end gap comes out as asked. */
const socketCoreTop = (s: Shape): number => s.lengthMm - s.edgeRadiusMm + s.endGapMm - s.sideGapMm;

const radians = (degrees: number): number => (degrees * Math.PI) / 180;

function coreCorners(s: Shape): Vec2[] {
  const inset = s.edgeRadiusMm / Math.cos(radians(s.draftDeg));
  const x = s.widthMm / 2 - inset;
  const y = s.heightMm / 2 - inset;
  return [
    [x, y],
    [-x, y],
    [-x, -y],
    [x, -y],
  ];
}

/** Why a shape cannot be made, or null when it can. */
export function taperFault(s: Shape): 'edge-radius' | 'draft' | 'too-short' | null {
  const half = Math.min(s.widthMm, s.heightMm) / 2 - s.edgeRadiusMm / Math.cos(radians(s.draftDeg));
  if (half < TOLERANCES.coreTipHalf) return 'edge-radius';
  const top = Math.max(s.lengthMm - s.edgeRadiusMm, socketCoreTop(s));
  if (Math.min(s.lengthMm - s.edgeRadiusMm, socketCoreTop(s)) < TOLERANCES.coreTipHalf) return 'too-short';
  if (half - top * Math.tan(radians(s.draftDeg)) < TOLERANCES.coreTipHalf) return 'draft';
  return null;
}

/** The peg's body, cut off at `bottom` (0 at the face, below it for a root). */
export const taperPeg = (s: Shape, bottom: number): BodySpec => ({
  corners: coreCorners(s),
  draft: radians(s.draftDeg),
  coreTop: s.lengthMm - s.edgeRadiusMm,
  radius: s.edgeRadiusMm,
  bottom,
});

/** The socket's body: the same core, longer by the end gap, grown by one side gap more. */
export const taperSocket = (s: Shape, bottom: number): BodySpec => ({
  ...taperPeg(s, bottom),
  coreTop: socketCoreTop(s),
  radius: s.edgeRadiusMm + s.sideGapMm,
});

/** Radius of the circle around the socket's outline at the face. */
export function socketReach(s: Shape): number {
  const corners = coreCorners(s);
  const grown = (s.edgeRadiusMm + s.sideGapMm) / Math.cos(radians(s.draftDeg));
  return Math.hypot(corners[0][0], corners[0][1]) + grown;
}
