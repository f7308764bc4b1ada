import type { Vec2 } from './engine.ts';
import { pointsPath } from './svg-path.ts';
import { TUNING } from './tuning.ts';
import { toScreen, type View } from './view.ts';
import './OutlineCorners.css';

export interface OutlineDraftProps {
  points: readonly Vec2[];
  /** Where the pointer is, in the face's frame. */
  at: Vec2 | null;
  view: View;
}

/** An outline that is being drawn: its corners so far, and where it would go on to. */
export function OutlineDraft({ points, at, view }: OutlineDraftProps) {
  const corners = points.map((point) => toScreen(view, point));
  const last = corners.at(-1);
  return (
    <g className="outline-draft-marks" data-testid="outline-draft" pointerEvents="none">
      <path className="outline-draft" d={pointsPath(corners)} />
      {last && at && <path className="outline-draft-on" d={pointsPath([last, toScreen(view, at)])} />}
      {corners.map(([x, y], i) => (
        <circle
          key={points[i]!.join()}
          className="face-grip"
          cx={x}
          cy={y}
          r={(i === 0 && corners.length > 2 ? 1.5 : 1) * (TUNING.handlePx / 2 - 1)}
        />
      ))}
    </g>
  );
}
