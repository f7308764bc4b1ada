import { chooseScaleBar } from './scale-bar.ts';
import type { Rect } from './view.ts';

/** A bar of round length at the foot of `area`, half of it filled. */
export function ScaleBar({ pxPerMm, area }: { pxPerMm: number; area: Rect }) {
  const bar = chooseScaleBar(pxPerMm, Math.min(90, area.width * 0.28));
  const x = area.x;
  const y = area.y + area.height - 6;
  return (
    <g className="drawing-scale">
      <rect className="drawing-scale-bar" x={x} y={y} width={bar.px} height={3} />
      <rect className="drawing-scale-fill" x={x} y={y} width={bar.px / 2} height={3} />
      <text className="drawing-numeral" x={x} y={y - 4}>
        {bar.label}
      </text>
    </g>
  );
}
