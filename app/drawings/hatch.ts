import type { Rect } from './view.ts';

/**
 * Path data of lines `px` apart at 45° over a rectangle, rising to the right or falling. Lines of one kind lie on one
 * another wherever in the drawing they are.
 */
export function hatchPath({ x, y, width, height }: Rect, px: number, way: 'rising' | 'falling'): string {
  const step = px * Math.SQRT2;
  const foot = y + height;
  const right = x + width;
  // x + y is the same all along a rising line, x − y along a falling one.
  const sign = way === 'rising' ? -1 : 1;
  const [from, to] = way === 'rising' ? [x + y, right + foot] : [x - foot, right - y];
  let d = '';
  for (let k = Math.ceil(from / step); k * step <= to; k++) {
    const at = k * step;
    const ends = [sign * (x - at), sign * (right - at)];
    const high = Math.max(y, Math.min(...ends));
    const low = Math.min(foot, Math.max(...ends));
    d += `M${(at + sign * low).toFixed(1)} ${low.toFixed(1)}L${(at + sign * high).toFixed(1)} ${high.toFixed(1)}`;
  }
  return d;
}
