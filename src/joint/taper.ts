import { TOLERANCES } from '../math/tolerances.ts';
import type { Vec2 } from '../math/vec3.ts';
import { LIMITS } from '../model/limits.ts';
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

export type TaperFault = 'edge-radius' | 'draft' | 'too-short';

/** Why a shape cannot be made, or null when it can. */
export function taperFault(s: Shape): TaperFault | null {
  const half = Math.min(s.widthMm, s.heightMm) / 2 - s.edgeRadiusMm / Math.cos(radians(s.draftDeg));
  if (half < TOLERANCES.coreTipHalf) return 'edge-radius';
  const top = Math.max(s.lengthMm - s.edgeRadiusMm, socketCoreTop(s));
  if (Math.min(s.lengthMm - s.edgeRadiusMm, socketCoreTop(s)) < TOLERANCES.coreTipHalf) return 'too-short';
  if (half - top * Math.tan(radians(s.draftDeg)) < TOLERANCES.coreTipHalf) return 'draft';
  return null;
}

/** Sizes, mm and degrees, each of which alone would make a shape possible; the width is that of the narrower side. */
export interface TaperBounds {
  leastWidthMm?: number;
  leastLengthMm?: number;
  mostLengthMm?: number;
  mostEdgeRadiusMm?: number;
  mostDraftDeg?: number;
}

/** What would make a shape of that fault possible, to the side that holds: to 0.01 mm, and 0.1°. */
export function taperBounds(s: Shape, fault: TaperFault): TaperBounds {
  const wider = (mm: number) => ({ widthMm: Math.max(s.widthMm, mm), heightMm: Math.max(s.heightMm, mm) });
  const narrow = Math.min(s.widthMm, s.heightMm);
  // The shortest core there can be: a longer one takes more room at the tip.
  const core = s.edgeRadiusMm + TOLERANCES.coreTipHalf + Math.max(0, s.sideGapMm - s.endGapMm);
  const shortest = Math.max(LIMITS.pegLengthMm[0], core + 1e-9);
  const width = nearestSize(s, narrow, LIMITS.pegWidthMm[1], 0.01, wider);
  const length = nearestSize(s, s.lengthMm, shortest, 0.01, (lengthMm) => ({ lengthMm }));
  const radius = nearestSize(s, s.edgeRadiusMm, 0, 0.01, (edgeRadiusMm) => ({ edgeRadiusMm }));
  const draft = nearestSize(s, s.draftDeg, 0, 0.1, (draftDeg) => ({ draftDeg }));
  switch (fault) {
    case 'edge-radius':
      return known({ leastWidthMm: width, mostEdgeRadiusMm: radius });
    case 'draft':
      return known({ mostLengthMm: length, leastWidthMm: width, mostDraftDeg: draft });
    case 'too-short':
      return known({ leastLengthMm: length, mostEdgeRadiusMm: radius });
  }
}

const known = <T extends object>(facts: T): { [K in keyof T]?: Exclude<T[K], undefined> } =>
  Object.fromEntries(Object.entries(facts).filter(([, value]) => value !== undefined)) as T;

/**
 * The size nearest to `from`, on the way to `to`, with which the shape can be made, found by halving: once it can, it
 * can all the way. Undefined where it cannot at `to`, or not at the size rounded.
 */
function nearestSize(
  s: Shape,
  from: number,
  to: number,
  grain: number,
  sized: (size: number) => Partial<Shape>,
): number | undefined {
  const can = (size: number) => taperFault({ ...s, ...sized(size) }) === null;
  if (!can(to)) return undefined;
  let [bad, good] = [from, to];
  while (Math.abs(good - bad) > grain / 1000) {
    const middle = (bad + good) / 2;
    if (can(middle)) good = middle;
    else bad = middle;
  }
  const round = (way: (steps: number) => number) => Number((way(good / grain) * grain).toFixed(2));
  return [round(Math.round), round(to > from ? Math.ceil : Math.floor)].find(can);
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
