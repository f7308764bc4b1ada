import { boxOfLoops, type Loop } from './polygon.ts';
import type { Vec2 } from './vec3.ts';

/** Where across a loop's box a line is laid, as shares of its height: no round ones, for corners like those. */
const LINES = [0.4937, 0.2731, 0.7363] as const;

/** A point well inside a loop: the middle of the widest way across it, along three level lines. */
export function pointInside(loop: Loop): Vec2 {
  const [x0, y0, x1, y1] = boxOfLoops([loop]);
  let widest = 0;
  let best: Vec2 = [(x0 + x1) / 2, (y0 + y1) / 2];
  for (const share of LINES) {
    const y = y0 + share * (y1 - y0);
    const xs = crossedAt(loop, y);
    for (let i = 0; i + 1 < xs.length; i += 2) {
      if (xs[i + 1] - xs[i] <= widest) continue;
      widest = xs[i + 1] - xs[i];
      best = [(xs[i] + xs[i + 1]) / 2, y];
    }
  }
  return best;
}

/** Where a level line crosses a loop, from left to right: an even number of times. */
function crossedAt(loop: Loop, y: number): number[] {
  const xs: number[] = [];
  for (let i = 0, j = loop.length - 2; i < loop.length; j = i, i += 2) {
    const [ya, yb] = [loop[j + 1], loop[i + 1]];
    if (ya <= y === yb <= y) continue;
    xs.push(loop[j] + ((y - ya) / (yb - ya)) * (loop[i] - loop[j]));
  }
  return xs.sort((a, b) => a - b);
}
