import { memo } from 'react';
import { drawingWords } from '../words.ts';
import { chooseScaleBar } from './scale-bar.ts';
import './ScaleBar.css';

export interface ScaleBarProps {
  pxPerMm: number;
  /** Where it stands: left end and foot, and the width of what it is the scale of, px. */
  x: number;
  foot: number;
  room: number;
}

/** A bar of round length, half of it filled. */
export const ScaleBar = memo(({ pxPerMm, x, foot, room }: ScaleBarProps) => {
  const bar = chooseScaleBar(pxPerMm, Math.min(90, room * 0.28));
  const y = foot - 6;
  return (
    <g className="drawing-scale">
      <rect className="drawing-scale-bar" x={x} y={y} width={bar.px} height={3} />
      <rect className="drawing-scale-fill" x={x} y={y} width={bar.px / 2} height={3} />
      <text className="drawing-numeral" x={x} y={y - 4}>
        {drawingWords.scale(bar.mm)}
      </text>
    </g>
  );
});
