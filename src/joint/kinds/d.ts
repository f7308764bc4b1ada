import { TOLERANCES } from '../../math/tolerances.ts';
import { LIMITS } from '../../model/limits.ts';
import { smoothCore } from '../smooth-core.ts';
import { taperedKind } from '../tapered.ts';

/** Of its radius the flat stands this far from the axis where nobody says how far: plainly to one side. */
const FLAT_SHARE = 0.5;

/**
 * The tapered peg of round section with a flat: a circle about the axis of which what lies beyond `flatMm` along the
 * joint's x axis is cut off. It goes in one way alone.
 * Where the sides of flat and round lean in, the edge between them would run along a curve. So the round goes over
 * into the flat by a small rounding, which narrows towards the tip as a cone does: to nothing at the socket's end.
 */
export const d = taperedKind({
  name: 'd',
  fields: [
    { name: 'diameterMm', limits: LIMITS.pegWidthMm, step: 0.1, grip: 'both' },
    { name: 'flatMm', limits: LIMITS.flatOffMm, step: 0.1 },
  ],
  spins: true,
  turnsDeg: [0],
  sizes(asked, widthMm) {
    const diameterMm = asked.diameterMm ?? widthMm;
    return { diameterMm, flatMm: asked.flatMm ?? (diameterMm / 2) * FLAT_SHARE };
  },
  narrowMm: ({ diameterMm, flatMm }) => diameterMm / 2 + Math.min(flatMm, diameterMm / 2),
  widened(sizes, mm) {
    const share = Math.max(1, mm / (sizes.diameterMm / 2 + sizes.flatMm));
    return { diameterMm: sizes.diameterMm * share, flatMm: sizes.flatMm * share };
  },
  fault: ({ diameterMm, flatMm }) => (flatMm < diameterMm / 2 ? null : 'flat-outside'),
  core({ diameterMm, flatMm }, { inset, outset, inmost }) {
    const round = diameterMm / 2;
    const flat = Math.min(flatMm, round);
    // Of a shape that cannot be made something is drawn all the same: there what it needs may be more than there is.
    const corner = Math.min(inmost + TOLERANCES.coreTipHalf / 2, (round + flat) / 2);
    const [x, reach] = [flat - corner, round - corner];
    const y = Math.sqrt(Math.max(0, reach * reach - x * x));
    const bend = Math.atan2(y, x);
    const radius = corner - inset;
    return smoothCore(
      [
        { middle: [x, y], radius, from: 0, to: bend },
        { middle: [0, 0], radius: round - inset, from: bend, to: 2 * Math.PI - bend },
        { middle: [x, -y], radius, from: -bend, to: 0 },
      ],
      outset,
    );
  },
});
