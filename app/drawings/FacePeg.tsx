import { type KeyboardEvent, memo, type PointerEvent } from 'react';
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
  drawn: DrawnPeg;
  view: View;
  selected: boolean;
  thin: boolean;
  /** The same functions for as long as the drawing is there: a peg that stays is not drawn again. */
  onGrab(drawn: DrawnPeg, handle: Handle, event: PointerEvent): void;
  onKey(drawn: DrawnPeg, event: KeyboardEvent): void;
  onLeave(): void;
}

/** One peg in the face: its outline, its socket's outline dashed, the gap between, its axes. */
export const FacePeg = memo(function FacePeg(props: FacePegProps) {
  const { drawn, view, selected, thin, onGrab, onKey, onLeave } = props;
  const { index, shape, wall } = drawn;
  const peg = linePath(view, drawn.peg, true);
  const socket = linePath(view, drawn.socket, true);
  const label = drawingWords.pegLabel(index, toldPeg(shape), wall?.mm ?? null, wall?.broken ?? false);
  return (
    // A shape in a drawing cannot be a <button>, so it is made one here: role, focus and keys together.
    // biome-ignore lint/a11y/useSemanticElements: see above
    <g
      role="button"
      tabIndex={0}
      aria-pressed={selected}
      className={`face-peg${selected ? ' is-selected' : ''}${thin ? ' is-thin' : ''}`}
      aria-label={label}
      data-testid={`face-peg-${index}`}
      onPointerDown={(event) => onGrab(drawn, 'body', event)}
      onKeyDown={(event) => onKey(drawn, event)}
      onKeyUp={onLeave}
      onBlur={onLeave}
    >
      <path className="face-peg-body" d={peg} />
      <Hatch what="pegged" d={peg} within={rectOf(view, drawn.peg)} />
      <path className="face-peg-gap" d={socket + peg} fillRule="evenodd" />
      <path className="face-peg-socket" d={socket} />
      <path className="face-peg-outline" d={peg} />
      <PegAxes drawn={drawn} view={view} />
    </g>
  );
});

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
