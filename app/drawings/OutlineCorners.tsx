import type { PointerEvent } from 'react';
import { cornersOnFace } from './outline-corners.ts';
import type { CornerHandle, Handle } from './peg-drag.ts';
import type { PegShape } from './peg-shape.ts';
import { TUNING } from './tuning.ts';
import { toScreen, type View } from './view.ts';
import './OutlineCorners.css';

export interface OutlineCornersProps {
  shape: PegShape;
  view: View;
  held: Handle | null;
  onGrab(handle: CornerHandle, event: PointerEvent): void;
}

/** A grip on each corner of the chosen peg's own outline; of very many none, for they are a curve. */
export function OutlineCorners({ shape, view, held, onGrab }: OutlineCornersProps) {
  const corners = cornersOnFace(shape);
  if (corners.length > TUNING.mostCornerGrips) return null;
  return (
    <g className="outline-corners">
      {corners.map((corner, i) => {
        const handle: CornerHandle = `corner-${i}`;
        if (held && held !== handle) return null;
        const [x, y] = toScreen(view, corner);
        return (
          <g
            key={handle}
            className={`outline-corner${held ? ' is-held' : ''}`}
            transform={`translate(${x.toFixed(2)} ${y.toFixed(2)})`}
            data-testid={`peg-${handle}`}
            onPointerDown={(event) => onGrab(handle, event)}
          >
            <circle className="face-handle-hit" r={TUNING.handlePx} />
            <circle className="face-grip" r={TUNING.handlePx / 2 - 1} />
          </g>
        );
      })}
    </g>
  );
}
