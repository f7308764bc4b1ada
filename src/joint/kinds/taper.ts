import { taperedKind } from '../tapered.ts';
import { WIDE_AND_HIGH } from '../wide-and-high.ts';

/** The tapered peg of rounded-rectangle section. */
export const taper = taperedKind({
  name: 'taper',
  ...WIDE_AND_HIGH,
  sizes(asked, width) {
    const widthMm = asked.widthMm ?? width;
    return { widthMm, heightMm: asked.heightMm ?? widthMm };
  },
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
