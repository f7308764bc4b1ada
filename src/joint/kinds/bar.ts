import { smoothCore } from '../smooth-core.ts';
import { taperedKind } from '../tapered.ts';
import { WIDE_AND_HIGH } from '../wide-and-high.ts';

/** It is this share of its width high where nobody says how high: long and narrow. */
const HEIGHT_SHARE = 0.4;

/** The tapered peg of long and narrow section whose two ends are round. */
export const bar = taperedKind({
  name: 'bar',
  ...WIDE_AND_HIGH,
  sizes(asked, width) {
    const widthMm = asked.widthMm ?? width;
    return { widthMm, heightMm: asked.heightMm ?? widthMm * HEIGHT_SHARE };
  },
  core({ widthMm, heightMm }, { inset, outset }) {
    const end = Math.min(widthMm, heightMm) / 2;
    const [x, y] = [widthMm / 2 - end, heightMm / 2 - end];
    const start = widthMm >= heightMm ? -Math.PI / 2 : 0;
    const radius = end - inset;
    return smoothCore(
      [
        { middle: [x, y], radius, from: start, to: start + Math.PI },
        { middle: [-x, -y], radius, from: start + Math.PI, to: start + 2 * Math.PI },
      ],
      outset,
    );
  },
});
