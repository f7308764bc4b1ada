import { TOLERANCES } from '../../math/tolerances.ts';
import { FIELDS, type JointShape, type Sizes } from '../../model/joint.ts';
import { LIMITS } from '../../model/limits.ts';
import { circleCore } from '../circle-core.ts';
import type { Caution, JointKind, ShapeFault } from '../kind.ts';
import { largestWithin } from '../offered.ts';
import type { BodySpec } from '../parallel-body.ts';

/** Disc magnets as they are sold, diameter and thickness, mm (common practice). */
const DISCS_MM = [
  [2, 1],
  [3, 1],
  [3, 2],
  [4, 1],
  [4, 2],
  [5, 1],
  [5, 2],
  [5, 3],
  [6, 2],
  [6, 3],
  [8, 2],
  [8, 3],
  [10, 2],
  [10, 3],
] as const;

/** A cover of less is not laid down whole: two layers (common practice). */
const LEAST_COVER_MM = 0.2;

const offered: readonly Sizes[] = DISCS_MM.map(([diameterMm, thicknessMm]) => ({ diameterMm, thicknessMm }));
/** One of each diameter, the thinnest. */
const thinnest = offered.filter(
  ({ diameterMm }, i) => offered.findIndex((one) => one.diameterMm === diameterMm) === i,
);

/**
 * Pockets for two disc magnets, one in each part. The magnet lies flush with the face, or under a cover; the end gap is
 * behind it. It holds the parts together and says nothing of how they sit.
 */
export const magnet: JointKind = {
  name: 'magnet',
  fields: [
    { name: 'diameterMm', limits: LIMITS.pegWidthMm, step: 0.1, grip: 'both' },
    { name: 'thicknessMm', limits: LIMITS.magnetMm, step: 0.1 },
    { name: 'coverMm', limits: LIMITS.coverMm, step: 0.1 },
    FIELDS.sideGap,
    FIELDS.endGap,
  ],
  turnsDeg: 'any',
  offered,
  supply: ({ diameterMm, thicknessMm }) => ({ count: 2, sizes: { diameterMm, thicknessMm } }),
  poles: { pegged: 'N', socketed: 'S' },
  settle(asked, process, { widthMm }) {
    const own = largestWithin(thinnest, asked.diameterMm ?? widthMm);
    // Where there is room for no disc at all, none of no thickness is to be had either.
    const { diameterMm, thicknessMm } = own ?? { diameterMm: widthMm, thicknessMm: 0 };
    return {
      kind: 'magnet',
      diameterMm: asked.diameterMm ?? diameterMm,
      thicknessMm: asked.thicknessMm ?? (asked.diameterMm === undefined ? thicknessMm : thicknessMm || 1),
      coverMm: asked.coverMm ?? 0,
      sideGapMm: asked.sideGapMm ?? process.sideGapMm,
      endGapMm: asked.endGapMm ?? process.endGapMm,
    };
  },
  fault: faultOf,
  // It adds nothing that could be too thin.
  tipMm: () => Number.POSITIVE_INFINITY,
  longestMm: () => Number.POSITIVE_INFINITY,
  // Nothing of it stands in the other part.
  coneDeg: () => 90,
  pieces: (shape) => [
    { in: 'socketed', does: 'take', body: pocketBody(shape) },
    { in: 'pegged', does: 'take', body: pocketBody(shape) },
    { in: 'loose', does: 'add', body: discBody(shape), isBought: true },
  ],
  cautions: ({ coverMm }): Caution[] => [
    { code: 'small-magnet', facts: {} },
    ...(coverMm > 0 ? [{ code: 'closed-in-print', facts: { coverMm } } as const] : []),
  ],
};

function discBody({ diameterMm, thicknessMm, coverMm, sideGapMm }: JointShape): BodySpec {
  return {
    core: circleCore(diameterMm / 2, sideGapMm),
    draft: 0,
    coreTop: coverMm + thicknessMm,
    radius: 0,
    bottom: coverMm,
  };
}

/** The disc grown by the side gap, and longer by the end gap. */
const pocketBody = (s: JointShape): BodySpec => ({
  ...discBody(s),
  coreTop: s.coverMm + s.thicknessMm + s.endGapMm - s.sideGapMm,
  radius: s.sideGapMm,
});

function faultOf({ diameterMm, thicknessMm, coverMm, sideGapMm, endGapMm }: JointShape): ShapeFault | null {
  const about = { widthMm: diameterMm, lengthMm: thicknessMm, edgeRadiusMm: 0, draftDeg: 0 };
  if (coverMm > 0 && coverMm < LEAST_COVER_MM)
    return { ...about, lengthMm: coverMm, reason: 'cover-thin', would: { leastCoverMm: LEAST_COVER_MM } };
  const least = Math.max(
    LIMITS.magnetMm[0],
    Math.ceil(100 * (sideGapMm - endGapMm + TOLERANCES.coreTipHalf)) / 100,
  );
  if (thicknessMm >= least) return null;
  return { ...about, reason: 'too-short', would: { leastLengthMm: least } };
}
