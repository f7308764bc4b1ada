import type { Rect } from './view.ts';

/**
 * Path data of lines `px` apart at 45° that cover a rectangle, rising to the right or falling. Lines of one kind lie
 * on one another wherever in the drawing they are. They reach past the rectangle's sides: whoever draws them clips them.
 */
export function hatchPath({ x, y, width, height }: Rect, px: number, way: 'rising' | 'falling'): string {
  const step = px * Math.SQRT2;
  const foot = y + height;
  // x + y is the same all along a rising line, x − y along a falling one.
  const [from, to] = way === 'rising' ? [x + y, x + width + foot] : [x - foot, x + width - y];
  let d = '';
  for (let k = Math.ceil(from / step); k * step <= to; k++) {
    const [low, high] = way === 'rising' ? [k * step - foot, k * step - y] : [k * step + foot, k * step + y];
    d += `M${low.toFixed(1)} ${foot.toFixed(1)}L${high.toFixed(1)} ${y.toFixed(1)}`;
  }
  return d;
}
