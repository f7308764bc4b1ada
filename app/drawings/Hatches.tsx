import { memo } from 'react';
import { TUNING } from './tuning.ts';

export interface HatchIds {
  pegged: string;
  socketed: string;
  gap: string;
}

/** Names of a drawing's hatch patterns, made unique on the page by `id`. */
export const hatchIds = (id: string): HatchIds => ({
  pegged: `${id}-pegged`,
  socketed: `${id}-socketed`,
  gap: `${id}-gap`,
});

function Hatch({ id, px, deg, className }: { id: string; px: number; deg: number; className: string }) {
  return (
    <pattern
      id={id}
      width={px}
      height={px}
      patternUnits="userSpaceOnUse"
      patternTransform={`rotate(${deg})`}
      className={className}
    >
      <path d={`M${px / 2} 0V${px}`} />
    </pattern>
  );
}

/** Section hatching: thin at 45°, the neighbouring part the other way, the gap finer (ISO 128-3). */
export const Hatches = memo(({ ids }: { ids: HatchIds }) => (
  <defs>
    <Hatch id={ids.pegged} px={TUNING.hatchPx} deg={45} className="drawing-hatch-pegged" />
    <Hatch id={ids.socketed} px={TUNING.hatchPx} deg={-45} className="drawing-hatch-socketed" />
    <Hatch id={ids.gap} px={TUNING.gapHatchPx} deg={45} className="drawing-hatch-gap" />
  </defs>
));
