import { memo, useId } from 'react';
import { hatchPath } from './hatch.ts';
import { TUNING } from './tuning.ts';
import type { Rect } from './view.ts';
import './Hatch.css';

/** What is hatched: thin at 45°, the neighbouring part the other way, what lies loose in both closer, the gap finer (ISO 128-3). */
export type Hatched = 'pegged' | 'socketed' | 'loose' | 'gap';

export interface HatchProps {
  what: Hatched;
  /** The area, as path data: what it winds round, so that holes run the other way and overlaps are solid. */
  d: string;
  /** A rectangle that holds all of the area that shows, px. */
  within: Rect;
}

/** Section hatching of an area: lines clipped to it. Some renderers leave a drawing blank that has patterns in it. */
export function Hatch({ what, d, within }: HatchProps) {
  const id = useId();
  return (
    <>
      <clipPath id={id}>
        <path d={d} />
      </clipPath>
      <g clipPath={`url(#${id})`}>
        <Lines what={what} {...within} />
      </g>
    </>
  );
}

/** Rendered again only when the rectangle is another. */
const Lines = memo(({ what, ...within }: Rect & { what: Hatched }) => {
  const px = {
    gap: TUNING.gapHatchPx,
    loose: TUNING.looseHatchPx,
    pegged: TUNING.hatchPx,
    socketed: TUNING.hatchPx,
  }[what];
  return (
    <path
      className={`drawing-hatch is-${what}`}
      d={hatchPath(within, px, what === 'socketed' ? 'falling' : 'rising')}
    />
  );
});
