import type { PointerEvent } from 'react';
import type { Handle } from './peg-drag.ts';
import type { PegShape } from './peg-shape.ts';
import { TUNING } from './tuning.ts';
import { toScreen, type View } from './view.ts';
import './PegHandles.css';

export interface PegHandlesProps {
  shape: PegShape;
  view: View;
  held: Handle | null;
  onGrab(handle: Handle, event: PointerEvent): void;
}

/** Handles of the chosen peg, in its own axes: a grip on each side, a knob at a corner. */
export function PegHandles({ shape, view, held, onGrab }: PegHandlesProps) {
  const [x, y] = toScreen(view, shape.uv);
  const halfW = (shape.widthMm / 2) * view.scale;
  const halfH = (shape.heightMm / 2) * view.scale;
  const w = Math.max(halfW, TUNING.handleReachPx);
  const h = Math.max(halfH, TUNING.handleReachPx);
  const grips: [Handle, number, number][] = [
    ['right', w, 0],
    ['left', -w, 0],
    ['top', 0, -h],
    ['bottom', 0, h],
  ];
  const stem = TUNING.spinStemPx / Math.SQRT2;
  const knob: [number, number] = [w + stem, -h - stem];
  return (
    <g
      className="face-handles"
      transform={`translate(${x.toFixed(2)} ${y.toFixed(2)}) rotate(${(-shape.spinDeg).toFixed(3)})`}
    >
      {(!held || held === 'spin') && (
        <path className="face-handle-stem" d={`M${halfW} ${-halfH}L${knob[0]} ${knob[1]}`} />
      )}
      {grips.map(([handle, gx, gy]) => (
        <Grip key={handle} handle={handle} x={gx} y={gy} held={held} onGrab={onGrab} />
      ))}
      <Grip handle="spin" x={knob[0]} y={knob[1]} held={held} onGrab={onGrab} />
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
