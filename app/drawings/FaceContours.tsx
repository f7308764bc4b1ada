import { memo } from 'react';
import { shortNumeral } from '../words.ts';
import { Label } from './Dimension.tsx';
import { placeCurveLabels, type Room } from './label-layout.ts';
import { outlinesPath } from './svg-path.ts';
import type { Size, View } from './view.ts';
import './FaceContours.css';

export type Contours = readonly { wallMm: number; lines: Float64Array[] }[];

/** Curves of equal wall: where a socket may reach to, labelled in mm. */
export const FaceContours = memo(({ contours, view }: { contours: Contours; view: View }) => {
  return (
    <g className="face-contours">
      {contours.map(({ wallMm, lines }) => (
        <path key={wallMm} className="face-contour" d={outlinesPath(view, lines)} />
      ))}
    </g>
  );
});

export interface ContourLabelsProps {
  contours: Contours;
  view: View;
  size: Size;
  taken: readonly Room[];
}

export function ContourLabels({ contours, view, size, taken }: ContourLabelsProps) {
  const curves = contours.map(({ wallMm, lines }) => ({ text: shortNumeral(wallMm, 2), lines }));
  const labels = placeCurveLabels(curves, view, size, taken);
  return (
    <g className="face-contour-labels">
      {labels.map(({ key, at, angleDeg, text }) => {
        // Centred on the curve: the baseline goes down by a third of the type.
        const a = (angleDeg * Math.PI) / 180;
        return (
          <Label
            key={key}
            at={[at[0] - Math.sin(a) * 3.3, at[1] + Math.cos(a) * 3.3]}
            angleDeg={angleDeg}
            text={text}
          />
        );
      })}
    </g>
  );
}
