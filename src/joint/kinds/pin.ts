import { TOLERANCES } from '../../math/tolerances.ts';
import { FIELDS, type JointShape, type Sizes } from '../../model/joint.ts';
import { LIMITS } from '../../model/limits.ts';
import { circleCore } from '../circle-core.ts';
import type { JointKind, ShapeFault } from '../kind.ts';
import { largestWithin } from '../offered.ts';
import type { BodySpec } from '../parallel-body.ts';

/** Nominal diameters of parallel pins, mm (ISO 2338). */
const DIAMETERS_MM = [0.6, 0.8, 1, 1.2, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 16, 20, 25, 30, 40, 50];
/** A pin stands about so many of its diameters in either part (common practice). */
const DEPTH_SHARE = 1.5;
/** Its ends are rounded by this share of the diameter, and no more than the millimetres (common practice). */
const EDGE_SHARE = 0.1;
const EDGE_MAX_MM = 0.5;

const offered: readonly Sizes[] = DIAMETERS_MM.map((diameterMm) => ({ diameterMm }));

/** The loose pin: a round rod with rounded ends in two straight sockets, which are larger by one gap all round. */
export const pin: JointKind = {
  name: 'pin',
  fields: [
    { name: 'diameterMm', limits: LIMITS.pegWidthMm, step: 0.1, grip: 'both' },
    { name: 'depthMm', limits: LIMITS.pegLengthMm, step: 0.1, isDepth: true },
    FIELDS.edgeRadius,
    FIELDS.sideGap,
    FIELDS.endGap,
  ],
  turnsDeg: 'any',
  offered,
  supply: ({ diameterMm, depthMm }) => ({ count: 1, sizes: { diameterMm, lengthMm: 2 * depthMm } }),
  settle(asked, process, { widthMm, lengthShare }) {
    const diameterMm = asked.diameterMm ?? largestWithin(offered, widthMm)?.diameterMm ?? widthMm;
    return {
      kind: 'pin',
      diameterMm,
      depthMm: asked.depthMm ?? diameterMm * DEPTH_SHARE * lengthShare,
      edgeRadiusMm: asked.edgeRadiusMm ?? Math.min(EDGE_MAX_MM, EDGE_SHARE * diameterMm),
      sideGapMm: asked.sideGapMm ?? process.sideGapMm,
      endGapMm: asked.endGapMm ?? process.endGapMm,
    };
  },
  fault: faultOf,
  tipMm: ({ diameterMm }) => diameterMm,
  // Straight, it is as thick however long it is.
  longestMm: ({ diameterMm }, tipMm) => (diameterMm >= tipMm ? LIMITS.pegLengthMm[1] : 0),
  coneDeg: () => 0,
  pieces: (shape) => [
    { in: 'socketed', does: 'take', body: socketBody(shape) },
    { in: 'pegged', does: 'take', body: socketBody(shape) },
    { in: 'loose', does: 'add', body: rodBody(shape) },
  ],
};

/** The edge radius that there is room for: a hand may make a pin too thin for its edge, and sees what it does. */
const edgeThere = ({ diameterMm, edgeRadiusMm }: JointShape): number =>
  Math.min(edgeRadiusMm, diameterMm / 2 - TOLERANCES.coreTipHalf);

/** The half of the rod on one side of the face. */
function rodBody(s: JointShape): BodySpec {
  const radius = edgeThere(s);
  return {
    core: circleCore(s.diameterMm / 2 - radius, radius + s.sideGapMm),
    draft: 0,
    coreTop: s.depthMm - radius,
    radius,
    bottom: 0,
  };
}

/** The same core, longer by the end gap, grown by one side gap more. */
const socketBody = (s: JointShape): BodySpec => ({
  ...rodBody(s),
  coreTop: socketCoreTop(s),
  radius: edgeThere(s) + s.sideGapMm,
});

const socketCoreTop = (s: JointShape): number => s.depthMm - edgeThere(s) + s.endGapMm - s.sideGapMm;

function faultOf(s: JointShape): ShapeFault | null {
  const { diameterMm, depthMm, edgeRadiusMm, sideGapMm, endGapMm } = s;
  const least = TOLERANCES.coreTipHalf;
  const about = { widthMm: diameterMm, lengthMm: depthMm, edgeRadiusMm, draftDeg: 0 };
  const mostEdge = diameterMm / 2 - least;
  if (edgeRadiusMm > mostEdge) {
    const would = { leastWidthMm: upTo(2 * (edgeRadiusMm + least)), mostEdgeRadiusMm: downTo(mostEdge) };
    return { ...about, reason: 'edge-radius', would };
  }
  // The core of rod or socket, whichever is the shorter.
  const lost = edgeRadiusMm + Math.max(0, sideGapMm - endGapMm) + least;
  if (depthMm >= lost) return null;
  const edge = depthMm - lost + edgeRadiusMm;
  const would = { leastLengthMm: upTo(lost), ...(edge >= 0 && { mostEdgeRadiusMm: downTo(edge) }) };
  return { ...about, reason: 'too-short', would };
}

/** To the hundredth that still does. */
const upTo = (mm: number): number => Math.ceil(mm * 100 - 1e-6) / 100;
const downTo = (mm: number): number => Math.floor(mm * 100 + 1e-6) / 100;
