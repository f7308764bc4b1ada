import type { PointerEvent } from 'react';
import { type Handle, handlesOf } from './peg-drag.ts';
import { type PegShape, reachOf, spinOf } from './peg-shape.ts';
import { TUNING } from './tuning.ts';
import { toScreen, type View } from './view.ts';
import './PegHandles.css';

export interface PegHandlesProps {
  shape: PegShape;
  view: View;
  held: Handle | null;
  onGrab(handle: Handle, event: PointerEvent): void;
}

/** Handles of the chosen peg, in its own axes: a grip on each side, a knob at a corner, as its kind has them. */
export function PegHandles({ shape, view, held, onGrab }: PegHandlesProps) {
  const [x, y] = toScreen(view, shape.uv);
  const { peg } = reachOf(shape);
  const [halfW, halfH] = [peg[0] * view.scale, peg[1] * view.scale];
  const w = Math.max(halfW, TUNING.handleReachPx);
  const h = Math.max(halfH, TUNING.handleReachPx);
  const stem = TUNING.spinStemPx / Math.SQRT2;
  const knob: [number, number] = [w + stem, -h - stem];
  const places = { right: [w, 0], left: [-w, 0], top: [0, -h], bottom: [0, h], spin: knob, body: [0, 0] };
  const handles = handlesOf(shape);
  return (
    <g
      className="face-handles"
      transform={`translate(${x.toFixed(2)} ${y.toFixed(2)}) rotate(${(-spinOf(shape)).toFixed(3)})`}
    >
      {handles.includes('spin') && (!held || held === 'spin') && (
        <path className="face-handle-stem" d={`M${halfW} ${-halfH}L${knob[0]} ${knob[1]}`} />
      )}
      {handles.map((handle) => (
        <Grip
          key={handle}
          handle={handle}
          x={places[handle][0]}
          y={places[handle][1]}
          held={held}
          onGrab={onGrab}
        />
      ))}
    </g>
  );
}

interface GripProps extends Pick<PegHandlesProps, 'held' | 'onGrab'> {
  handle: Handle;
  x: number;
  y: number;
}

/** What is seen is small, what can be hit is a finger wide; while another handle is held, neither. */
function Grip({ handle, x, y, held, onGrab }: GripProps) {
  const r = TUNING.handlePx / 2;
  if (held && held !== handle) return null;
  return (
    <g
      className={`face-handle face-handle-${handle}${held === handle ? ' is-held' : ''}`}
      transform={`translate(${x.toFixed(2)} ${y.toFixed(2)})`}
      data-testid={`peg-handle-${handle}`}
      onPointerDown={(event) => onGrab(handle, event)}
    >
      <circle className="face-handle-hit" r={TUNING.handleHitPx / 2} />
      {handle === 'spin' ? (
        <circle className="face-grip" r={r + 0.5} />
      ) : (
        <rect className="face-grip" x={-r} y={-r} width={2 * r} height={2 * r} />
      )}
    </g>
  );
}
