import type { Vec2 } from '../../math/vec3.ts';
import { outlineIn, type Sizes, withOutline } from '../../model/joint.ts';
import { LIMITS } from '../../model/limits.ts';
import type { Outline } from '../../model/outline.ts';
import { ownOutline } from '../own-outline.ts';
import { movedIn } from '../parallel-body.ts';
import { leastStraight } from '../straight-sides.ts';
import { taperedKind } from '../tapered.ts';

/** What it is before it is given another: a blunt arrow, which goes in one way. */
const ARROW: Outline = [
  [4, 0],
  [1, 3],
  [-4, 3],
  [-4, -3],
  [1, -3],
];

/** A joint's own outline as it was drawn, and how many times as large it is made. */
function outlineOf(sizes: Sizes) {
  const own = ownOutline(outlineIn(sizes) ?? ARROW);
  return { own, share: sizes.widthMm / own.widthMm };
}

/** The tapered peg of a person's own section, convex or not; as it was drawn, or scaled to a width. */
export const outline = taperedKind({
  name: 'outline',
  outline: ARROW,
  fields: [{ name: 'widthMm', limits: LIMITS.pegWidthMm, step: 0.1, grip: 'x' }],
  spins: true,
  turnsDeg: 'by-outline',
  sizes(asked) {
    const outlineMm = outlineIn(asked) ?? ARROW;
    return withOutline({ widthMm: asked.widthMm ?? ownOutline(outlineMm).widthMm }, outlineMm);
  },
  narrowMm(sizes) {
    const { own, share } = outlineOf(sizes);
    return own.narrowMm * share;
  },
  room(sizes) {
    const { own, share } = outlineOf(sizes);
    return { inMm: own.room.inMm * share, outMm: own.room.outMm * share };
  },
  straightMm(sizes, inMm, grownMm) {
    const { own, share } = outlineOf(sizes);
    return leastStraight(own.sides, inMm / share, grownMm / share) * share;
  },
  widened(sizes, mm) {
    const { own } = outlineOf(sizes);
    const widthMm = Math.max(sizes.widthMm, (mm * own.widthMm) / own.narrowMm);
    return withOutline({ widthMm }, outlineIn(sizes) ?? ARROW);
  },
  core(sizes, { inset }) {
    const { own, share } = outlineOf(sizes);
    const corners = own.corners.map(([x, y]): Vec2 => [x * share, y * share]);
    return { corners: movedIn(corners, inset) };
  },
});
