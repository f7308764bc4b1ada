import type { KeyboardEvent, PointerEvent } from 'react';
import { drawingWords } from '../words.ts';
import type { DrawnPeg } from './face-model.ts';
import { Hatch } from './Hatch.tsx';
import type { Handle } from './peg-drag.ts';
import { reachOf, spinOf } from './peg-shape.ts';
import { linePath } from './svg-path.ts';
import { toldPeg } from './told-peg.ts';
import { boundsOf, type Rect, toScreen, type View } from './view.ts';
import './FacePeg.css';

export interface FacePegProps {
  role: 'button';
  tabIndex: 0;
  'aria-pressed': boolean;
  drawn: DrawnPeg;
  view: View;
  selected: boolean;
  thin: boolean;
  onGrab(handle: Handle, event: PointerEvent): void;
  onKeyDown(event: KeyboardEvent): void;
  onKeyUp(): void;
  onBlur(): void;
}

/** One peg in the face: its outline, its socket's outline dashed, the gap between, its axes. */
export function FacePeg({ drawn, view, selected, thin, onGrab, ...operable }: FacePegProps) {
  const { index, shape, wall } = drawn;
  const peg = linePath(view, drawn.peg, true);
  const socket = linePath(view, drawn.socket, true);
  const label = drawingWords.pegLabel(index, toldPeg(shape), wall?.mm ?? null, wall?.broken ?? false);
  return (
    <g
      className={`face-peg${selected ? ' is-selected' : ''}${thin ? ' is-thin' : ''}`}
      aria-label={label}
      data-testid={`face-peg-${index}`}
      onPointerDown={(event) => onGrab('body', event)}
      {...operable}
    >
      <path className="face-peg-body" d={peg} />
      <Hatch what="pegged" d={peg} within={rectOf(view, drawn.peg)} />
      <path className="face-peg-gap" d={socket + peg} fillRule="evenodd" />
      <path className="face-peg-socket" d={socket} />
      <path className="face-peg-outline" d={peg} />
      <PegAxes drawn={drawn} view={view} />
    </g>
  );
}

/** What an outline takes up on the screen. */
function rectOf(view: View, outline: Float64Array): Rect {
  const { min, max } = boundsOf([outline]);
  const [x, y] = toScreen(view, [min[0], max[1]]);
  return { x, y, width: view.scale * (max[0] - min[0]), height: view.scale * (max[1] - min[1]) };
}

/** The cross of axes through a peg, run a little past its sides. */
function PegAxes({ drawn: { shape }, view }: { drawn: DrawnPeg; view: View }) {
  const [x, y] = toScreen(view, shape.uv);
  const overrun = 7;
  const { socket } = reachOf(shape);
  const w = socket[0] * view.scale + overrun;
  const h = socket[1] * view.scale + overrun;
  return (
    <path
      className="drawing-axis"
      transform={`translate(${x.toFixed(2)} ${y.toFixed(2)}) rotate(${(-spinOf(shape)).toFixed(3)})`}
      d={`M${-w} 0H${w}M0 ${-h}V${h}`}
    />
  );
}
