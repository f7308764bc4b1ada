import { LIMITS } from '../../model/limits.ts';
import { taperedKind } from '../tapered.ts';

/** The tapered peg of rounded-rectangle section. */
export const taper = taperedKind({
  name: 'taper',
  fields: [
    { name: 'widthMm', limits: LIMITS.pegWidthMm, step: 0.1, grip: 'x' },
    { name: 'heightMm', limits: LIMITS.pegWidthMm, step: 0.1, grip: 'y' },
  ],
  spins: true,
  turnsDeg: [0, 90, 180, 270],
  sizes(asked, width) {
    const widthMm = asked.widthMm ?? width;
    return { widthMm, heightMm: asked.heightMm ?? widthMm };
  },
  narrowMm: ({ widthMm, heightMm }) => Math.min(widthMm, heightMm),
  widened: ({ widthMm, heightMm }, mm) => ({
    widthMm: Math.max(widthMm, mm),
    heightMm: Math.max(heightMm, mm),
  }),
  core({ widthMm, heightMm }, { inset }) {
    const x = widthMm / 2 - inset;
    const y = heightMm / 2 - inset;
    const corners = [
      [x, y],
      [-x, y],
      [-x, -y],
      [x, -y],
    ] as const;
    return { corners };
  },
});
