import type { Vec2 } from './engine.ts';
import type { View } from './view.ts';

/** Points nearer than this to the last one drawn are passed over, px: a scan's outline has thousands no eye can part. */
const LEAST_STEP_PX = 0.35;

/** Path data from flat x, y pairs in the world, drawn in px: text and lines keep their size whatever the zoom. */
export function linePath(view: View, line: Float64Array, closed: boolean): string {
  let d = '';
  let lastX = Number.POSITIVE_INFINITY;
  let lastY = Number.POSITIVE_INFINITY;
  for (let i = 0; i < line.length; i += 2) {
    const x = view.x + view.scale * line[i];
    const y = view.y - view.scale * line[i + 1];
    const isEnd = i === line.length - 2;
    if (!isEnd && Math.abs(x - lastX) + Math.abs(y - lastY) < LEAST_STEP_PX) continue;
    d += `${i === 0 ? 'M' : 'L'}${x.toFixed(2)} ${y.toFixed(2)}`;
    lastX = x;
    lastY = y;
  }
  return closed && d ? `${d}Z` : d;
}

/** Several closed outlines as one path, for filling by the even-odd rule. */
export const outlinesPath = (view: View, outlines: readonly Float64Array[]): string =>
  outlines.map((o) => linePath(view, o, true)).join('');

export const pointsPath = (points: readonly Vec2[], closed = false): string =>
  points.map((p, i) => `${i === 0 ? 'M' : 'L'}${p[0].toFixed(2)} ${p[1].toFixed(2)}`).join('') +
  (closed ? 'Z' : '');

/**
 * Whether a curve that should run round ends where it began: its ends are no farther
 * apart than three of its own steps.
 */
export function isRing(line: Float64Array): boolean {
  const n = line.length / 2;
  if (n < 3) return false;
  let total = 0;
  for (let i = 2; i < line.length; i += 2)
    total += Math.hypot(line[i] - line[i - 2], line[i + 1] - line[i - 1]);
  const gap = Math.hypot(line[0] - line[line.length - 2], line[1] - line[line.length - 1]);
  return gap <= (3 * total) / (n - 1);
}
