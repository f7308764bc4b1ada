import { numeral } from '../words.ts';
import { Dimension, Label } from './Dimension.tsx';
import { layoutDimension, numeralsPx } from './dimension-layout.ts';
import type { Vec2 } from './engine.ts';
import { fieldOf, type Handle } from './peg-drag.ts';
import { fromPegAxes, type PegShape, reachOf, spinOf } from './peg-shape.ts';
import { toScreen, type View } from './view.ts';
import './PegReadout.css';

export interface PegReadoutProps {
  shape: PegShape;
  handle: Handle;
  view: View;
}

/** What a gesture is changing, said as it changes: the dimension being sized, or the spin. A place is a note at the foot. */
export function PegReadout({ shape, handle, view }: PegReadoutProps) {
  const reach = 22;
  const [halfW, halfH] = reachOf(shape).peg;
  const corner = (x: number, y: number): Vec2 => toScreen(view, fromPegAxes(shape, x * halfW, y * halfH));
  const field = fieldOf(shape, handle);
  if (!field) return null;
  if (handle === 'spin') {
    const [x, y] = toScreen(view, shape.uv);
    return <Label at={[x, y + 4]} text={`${numeral(spinOf(shape), 0)}°`} className="face-readout" />;
  }
  const isWidth = handle === 'left' || handle === 'right';
  const text = numeral(shape.sizes[field.name], 1);
  const [from, to] = isWidth ? [corner(-1, -1), corner(1, -1)] : [corner(-1, 1), corner(-1, -1)];
  const layout = layoutDimension(from, to, { offset: reach, textPx: numeralsPx(text) });
  return <Dimension layout={layout} text={text} className="face-readout" />;
}
