import { TOLERANCES } from '../math/tolerances.ts';
import { type AskedJoint, FIELDS, type JointField, type JointShape, type Sizes } from '../model/joint.ts';
import { LIMITS } from '../model/limits.ts';
import type { JointKind, ShapeBounds, ShapeFault } from './kind.ts';
import type { BodySpec, CoreSection } from './parallel-body.ts';

/**
 * What tapered pegs in sockets have in common, whatever their section. The core is a frustum whose side planes lie
 * one edge radius inside the peg's; widths are measured at the face. With draft α and edge radius r a side plane is
 * x cos α + z sin α = (w/2) cos α, the core's lies r inside it, so the core's half width at the face is w/2 − r / cos α.
 */

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
  /** Its core at the face, with all sides moved in by `inset`; `outset` is how far the socket's side lies off it, mm. */
  core(sizes: Sizes, inset: number, outset: number): CoreSection;
  turnsDeg: JointKind['turnsDeg'];
}

/** Draft per side that holds and still comes free; common practice. */
const DRAFT_DEG = 6;
/** Edges are rounded by this share of the width, and no more than the millimetres (common practice). */
const EDGE_SHARE = 0.14;
const EDGE_MAX_MM = 0.8;

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
    /** A peg is about as long as it is wide (common practice). */
    settle(asked, process, { widthMm, lengthShare }) {
      const sizes = section.sizes(asked, widthMm);
      const narrow = section.narrowMm(sizes);
      return {
        kind: section.name,
        ...sizes,
        lengthMm: asked.lengthMm ?? narrow * lengthShare,
        draftDeg: asked.draftDeg ?? DRAFT_DEG,
        edgeRadiusMm: asked.edgeRadiusMm ?? Math.min(EDGE_MAX_MM, EDGE_SHARE * narrow),
        ...(section.spins && { spinDeg: asked.spinDeg ?? 0 }),
        sideGapMm: asked.sideGapMm ?? process.sideGapMm,
        endGapMm: asked.endGapMm ?? process.endGapMm,
      };
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

/** The edge radius that there is room for: a hand may make a peg too narrow for its edge, and sees what it does. */
const edgeThere = (section: TaperedSection, s: JointShape): number => {
  const most = (section.narrowMm(s) / 2 - TOLERANCES.coreTipHalf) * Math.cos(radians(s.draftDeg));
  return Math.min(s.edgeRadiusMm, most);
};

function pegBody(section: TaperedSection, s: JointShape): BodySpec {
  const cos = Math.cos(radians(s.draftDeg));
  const radius = edgeThere(section, s);
  return {
    core: section.core(s, radius / cos, (radius + s.sideGapMm) / cos),
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

/** Why a shape cannot be made, or null where it can. */
function reasonAgainst(section: TaperedSection, s: JointShape): Reason | null {
  const half = section.narrowMm(s) / 2 - s.edgeRadiusMm / Math.cos(radians(s.draftDeg));
  if (half < TOLERANCES.coreTipHalf) return 'edge-radius';
  const tops = [s.lengthMm - s.edgeRadiusMm, socketCoreTop(s)];
  if (Math.min(...tops) < TOLERANCES.coreTipHalf) return 'too-short';
  if (half - Math.max(...tops) * Math.tan(radians(s.draftDeg)) < TOLERANCES.coreTipHalf) return 'draft';
  return null;
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
