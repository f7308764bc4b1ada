import { LIMITS } from '../../model/limits.ts';
import { circleCore } from '../circle-core.ts';
import { taperedKind } from '../tapered.ts';

/** The tapered peg of round section: a cone with its tip rounded off. Alone it turns freely; it takes another to hold. */
export const round = taperedKind({
  name: 'round',
  fields: [{ name: 'diameterMm', limits: LIMITS.pegWidthMm, step: 0.1, grip: 'both' }],
  spins: false,
  turnsDeg: 'any',
  sizes: (asked, widthMm) => ({ diameterMm: asked.diameterMm ?? widthMm }),
  narrowMm: ({ diameterMm }) => diameterMm,
  widened: ({ diameterMm }, mm) => ({ diameterMm: Math.max(diameterMm, mm) }),
  core: ({ diameterMm }, { inset, outset }) => circleCore(diameterMm / 2 - inset, outset),
});
