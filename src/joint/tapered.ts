import { TOLERANCES } from '../math/tolerances.ts';
import { type AskedJoint, FIELDS, type JointField, type JointShape, type Sizes } from '../model/joint.ts';
import { LIMITS } from '../model/limits.ts';
import type { JointKind, ShapeBounds, ShapeFault } from './kind.ts';
import type { BodySpec, CoreSection } from './parallel-body.ts';
import type { RoomToMove } from './room-to-move.ts';

/**
 * What tapered pegs in sockets have in common, whatever their section. The core is a frustum whose side planes lie
 * one edge radius inside the peg's; widths are measured at the face. With draft α and edge radius r a side plane is
 * x cos α + z sin α = (w/2) cos α, the core's lies r inside it, so the core's half width at the face is w/2 − r / cos α.
 */

/** How far the sides of a section move, mm. */
export interface CoreMoves {
  /** In, from the peg's outline at the face to its core's. */
  inset: number;
  /** Out from there, to the socket's outline. */
  outset: number;
  /** In from the peg's outline to the core's at the end of the socket: as far as any of them goes. */
  inmost: number;
}

/** The section of a tapered peg at the face. */
export interface TaperedSection {
  name: string;
  /** Its own sizes, before those all tapered pegs have. */
  fields: readonly JointField[];
  /** True where it matters how it is turned about its axis. */
  spins: boolean;
  /** Its own sizes where the person left them out: of about this width, mm. */
  sizes(asked: AskedJoint, widthMm: number): Sizes;
  /** The narrowest across it, mm. */
  narrowMm(sizes: Sizes): number;
  /** Its sizes made such that nothing across it is narrower, mm. */
  widened(sizes: Sizes, narrowMm: number): Sizes;
  /** How far its sides can move in and out and all of them stay, mm; left out: in as far as half the narrowest, out without end. */
  room?(sizes: Sizes): RoomToMove;
  /** What is left straight of its shortest side, moved in and then grown by a ball, mm; left out: enough. */
  straightMm?(sizes: Sizes, inMm: number, grownMm: number): number;
  /** What its own sizes have against each other; left out: nothing. */
  fault?(sizes: Sizes): 'flat-outside' | null;
  /** Its core at the face, with all sides moved in by `inset`. */
  core(sizes: Sizes, moves: CoreMoves): CoreSection;
  outline?: JointKind['outline'];
  turnsDeg: JointKind['turnsDeg'];
}

/** Draft per side that holds and still comes free; common practice. */
const DRAFT_DEG = 6;
/** Edges are rounded by this share of the width, and no more than the millimetres (common practice). */
const EDGE_SHARE = 0.14;
const EDGE_MAX_MM = 0.8;

/** Of the room that the sides of an outline have to move in, edges and draft take this share each where nobody says how much. */
const ROOM_SHARE = 0.4;
/** Of that share, what is tried in turn where sides that lie in leave less room; with none at all edges are sharp and sides straight up. */
const LESSER_SHARES = [1, 0.7, 0.5, 0.3, 0.15, 0];

/** The usual draft, or to a tenth of a degree that with which sides move in by no more than `mostIn` over a length, mm. */
const usualDraft = (mostIn: number, length: number): number =>
  Math.min(DRAFT_DEG, Math.floor(((Math.atan(mostIn / length) * 180) / Math.PI) * 10) / 10);

const radians = (degrees: number): number => (degrees * Math.PI) / 180;

/** A kind of joint of a tapered peg and its socket, which is larger by one gap all round. */
export function taperedKind(section: TaperedSection): JointKind {
  return {
    name: section.name,
    fields: [
      ...section.fields,
      FIELDS.length,
      FIELDS.draft,
      FIELDS.edgeRadius,
      ...(section.spins ? [FIELDS.spin] : []),
      FIELDS.sideGap,
      FIELDS.endGap,
    ],
    turnsDeg: section.turnsDeg,
    ...(section.outline && { outline: section.outline }),
    /** A peg is about as long as it is wide (common practice). */
    settle(asked, process, { widthMm, lengthShare }) {
      const sizes = section.sizes(asked, widthMm);
      const narrow = section.narrowMm(sizes);
      const lengthMm = asked.lengthMm ?? narrow * lengthShare;
      const endGapMm = asked.endGapMm ?? process.endGapMm;
      const room = section.room?.(sizes);
      const inMm = room ? room.inMm * ROOM_SHARE : Number.POSITIVE_INFINITY;
      /** With so much of the usual draft and edge radius. */
      const shaped = (share: number): JointShape => ({
        kind: section.name,
        ...sizes,
        lengthMm,
        draftDeg: asked.draftDeg ?? usualDraft(inMm * share, lengthMm + endGapMm),
        edgeRadiusMm: asked.edgeRadiusMm ?? Math.min(EDGE_MAX_MM, EDGE_SHARE * narrow, inMm * share),
        ...(section.spins && { spinDeg: asked.spinDeg ?? 0 }),
        sideGapMm: asked.sideGapMm ?? process.sideGapMm,
        endGapMm,
      });
      const can = (share: number) => reasonAgainst(section, shaped(share)) === null;
      return shaped((room && LESSER_SHARES.find(can)) ?? 1);
    },
    fault(shape) {
      const reason = reasonAgainst(section, shape);
      if (reason === null) return null;
      const { lengthMm, edgeRadiusMm, draftDeg } = shape;
      const widthMm = section.narrowMm(shape);
      return { reason, widthMm, lengthMm, edgeRadiusMm, draftDeg, would: boundsFor(section, shape, reason) };
    },
    tipMm: (shape) => section.narrowMm(shape) - 2 * shape.lengthMm * Math.tan(radians(shape.draftDeg)),
    longestMm: (shape, tipMm) =>
      Math.max(0, (section.narrowMm(shape) - tipMm) / (2 * Math.tan(radians(shape.draftDeg)))),
    coneDeg: ({ draftDeg }) => draftDeg,
    pieces: (shape) => [
      { in: 'pegged', does: 'add', body: pegBody(section, shape) },
      { in: 'socketed', does: 'take', body: socketBody(section, shape) },
    ],
  };
}

/** How far a section's sides can move in and out, mm. */
const roomOf = (section: TaperedSection, s: JointShape): RoomToMove =>
  section.room?.(s) ?? { inMm: section.narrowMm(s) / 2, outMm: Number.POSITIVE_INFINITY };

/** The edge radius that there is room for: a hand may make a peg too narrow for its edge, and sees what it does. */
const edgeThere = (section: TaperedSection, s: JointShape): number => {
  const most = (roomOf(section, s).inMm - TOLERANCES.coreTipHalf) * Math.cos(radians(s.draftDeg));
  return Math.max(0, Math.min(s.edgeRadiusMm, most));
};

function pegBody(section: TaperedSection, s: JointShape): BodySpec {
  const cos = Math.cos(radians(s.draftDeg));
  const radius = edgeThere(section, s);
  const inset = radius / cos;
  const inmost = inset + Math.max(...coreTops(s)) * Math.tan(radians(s.draftDeg));
  return {
    core: section.core(s, { inset, outset: (radius + s.sideGapMm) / cos, inmost }),
    draft: radians(s.draftDeg),
    coreTop: s.lengthMm - radius,
    radius,
    bottom: 0,
  };
}

/** The same core, longer by the end gap, grown by one side gap more. */
const socketBody = (section: TaperedSection, s: JointShape): BodySpec => ({
  ...pegBody(section, s),
  coreTop: socketCoreTop(s),
  radius: edgeThere(section, s) + s.sideGapMm,
});

/** Height the socket's core must have so that the end gap comes out as asked. */
const socketCoreTop = (s: JointShape): number => s.lengthMm - s.edgeRadiusMm + s.endGapMm - s.sideGapMm;

type Reason = Exclude<ShapeFault['reason'], 'cover-thin'>;

/** Heights of the peg's core and of the socket's. */
const coreTops = (s: JointShape): [number, number] => [s.lengthMm - s.edgeRadiusMm, socketCoreTop(s)];

/** Where the kernel joins, a socket reaches out of its face, and farther where the face lies lower (see `closedBody`), mm. */
const OUT_OF_FACE = TOLERANCES.root + 2 * TOLERANCES.contact;

/** Why a shape cannot be made, or null where it can. */
function reasonAgainst(section: TaperedSection, s: JointShape): Reason | null {
  const ill = section.fault?.(s);
  if (ill) return ill;
  const [cos, tan] = [Math.cos(radians(s.draftDeg)), Math.tan(radians(s.draftDeg))];
  const { inMm, outMm } = roomOf(section, s);
  // An outline of a person's own loses a side or a corner where there may still be some width.
  const isFine = section.room !== undefined;
  const half = inMm - s.edgeRadiusMm / cos;
  if (half < TOLERANCES.coreTipHalf) return isFine ? 'outline-fine' : 'edge-radius';
  const tops = coreTops(s);
  if (Math.min(...tops) < TOLERANCES.coreTipHalf) return 'too-short';
  if (half - Math.max(...tops) * tan < TOLERANCES.coreTipHalf) return isFine ? 'outline-fine' : 'draft';
  // Sides grow along the slope: so far level with the face, from the core where it is widest to where it is narrowest.
  const grown = (s.edgeRadiusMm + s.sideGapMm) * cos;
  const lowest = -OUT_OF_FACE - (s.edgeRadiusMm + s.sideGapMm) * Math.sin(radians(s.draftDeg));
  const isShort = (level: number) => {
    const left = section.straightMm?.(s, s.edgeRadiusMm / cos + level * tan, grown);
    return left !== undefined && left < TOLERANCES.coreTipHalf;
  };
  if ([lowest, ...tops].some(isShort)) return 'outline-fine';
  const out = s.sideGapMm / cos + OUT_OF_FACE * tan;
  return outMm - out < TOLERANCES.coreTipHalf ? 'notch-narrow' : null;
}

/** What would make a shape of that fault possible, to the side that holds: to 0.01 mm, and 0.1°. */
function boundsFor(section: TaperedSection, s: JointShape, fault: Reason): ShapeBounds {
  const nearest = (from: number, to: number, grain: number, sized: (size: number) => Sizes) =>
    nearestSize(section, s, from, to, grain, sized);
  // The shortest core there can be: a longer one takes more room at the tip.
  const core = s.edgeRadiusMm + TOLERANCES.coreTipHalf + Math.max(0, s.sideGapMm - s.endGapMm);
  const shortest = Math.max(LIMITS.pegLengthMm[0], core + 1e-9);
  const width = nearest(section.narrowMm(s), LIMITS.pegWidthMm[1], 0.01, (mm) => section.widened(s, mm));
  const length = nearest(s.lengthMm, shortest, 0.01, (lengthMm) => ({ lengthMm }));
  const radius = nearest(s.edgeRadiusMm, 0, 0.01, (edgeRadiusMm) => ({ edgeRadiusMm }));
  const draft = nearest(s.draftDeg, 0, 0.1, (draftDeg) => ({ draftDeg }));
  const percentOf = (mm: number | undefined) => mm && Math.ceil((100 * mm) / section.narrowMm(s));
  switch (fault) {
    case 'edge-radius':
      return known({ leastWidthMm: width, mostEdgeRadiusMm: radius });
    case 'draft':
      return known({ mostLengthMm: length, leastWidthMm: width, mostDraftDeg: draft });
    case 'too-short':
      return known({ leastLengthMm: length, mostEdgeRadiusMm: radius });
    case 'outline-fine':
      return known({
        mostLengthMm: length,
        leastPercent: percentOf(width),
        mostEdgeRadiusMm: radius,
        mostDraftDeg: draft,
      });
    case 'notch-narrow':
      return known({ leastPercent: percentOf(width), mostDraftDeg: draft });
    case 'flat-outside':
      return {};
  }
}

const known = <T extends object>(facts: T): { [K in keyof T]?: Exclude<T[K], undefined> } =>
  Object.fromEntries(Object.entries(facts).filter(([, value]) => value !== undefined)) as T;

/**
 * The size nearest to `from`, on the way to `to`, with which the shape can be made, found by halving: once it can, it
 * can all the way. Undefined where it cannot at `to`, or not at the size rounded.
 */
function nearestSize(
  section: TaperedSection,
  s: JointShape,
  from: number,
  to: number,
  grain: number,
  sized: (size: number) => Sizes,
): number | undefined {
  const can = (size: number) => reasonAgainst(section, { ...s, ...sized(size) }) === null;
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
