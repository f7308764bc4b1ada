import { readableAngle } from './dimension-layout.ts';
import type { Vec2 } from './engine.ts';
import { type Size, toScreen, type View } from './view.ts';

/** A place for a label on a curve, px; the text is turned along the curve. */
export interface CurveLabel {
  key: string;
  text: string;
  at: Vec2;
  angleDeg: number;
}

/** Round room on the screen that other labels keep out of. */
export interface Room {
  at: Vec2;
  radius: number;
}

const overlaps = (a: Room, b: Room): boolean =>
  Math.hypot(a.at[0] - b.at[0], a.at[1] - b.at[1]) < a.radius + b.radius;

/**
 * Labels on curves, each at the first place along its longest line where it stays on the paper
 * and off every taken room; a curve without such a place goes without.
 */
export function placeCurveLabels(
  curves: readonly { text: string; lines: readonly Float64Array[] }[],
  view: View,
  size: Size,
  taken: readonly Room[],
): CurveLabel[] {
  const rooms = [...taken];
  const out: CurveLabel[] = [];
  for (const { text, lines } of curves) {
    const line = longest(lines);
    const radius = text.length * 3.4 + 3;
    const points = line ? line.length / 2 : 0;
    // Short curves leave no line to read the label on.
    if (!line || lengthOf(line) * view.scale < 6 * radius) continue;
    const stride = Math.max(1, Math.floor(points / 96));
    for (let i = 0; i < points; i += stride) {
      const at = toScreen(view, [line[2 * i], line[2 * i + 1]]);
      const room = { at, radius };
      if (!isOnPaper(at, radius, size) || rooms.some((r) => overlaps(r, room))) continue;
      rooms.push(room);
      out.push({ key: text, text, at, angleDeg: tangent(line, i, view, radius) });
      break;
    }
  }
  return out;
}

const isOnPaper = (p: Vec2, margin: number, size: Size): boolean =>
  p[0] > margin && p[1] > margin && p[0] < size.width - margin && p[1] < size.height - margin;

function lengthOf(line: Float64Array): number {
  let total = 0;
  for (let i = 2; i < line.length; i += 2)
    total += Math.hypot(line[i] - line[i - 2], line[i + 1] - line[i - 1]);
  return total;
}

function longest(lines: readonly Float64Array[]): Float64Array | null {
  let best: Float64Array | null = null;
  for (const line of lines) if (!best || lengthOf(line) > lengthOf(best)) best = line;
  return best;
}

/** Turn of the chord through the points about `reach` px before and after point `i`. */
function tangent(line: Float64Array, i: number, view: View, reach: number): number {
  const n = line.length / 2;
  const walk = (way: 1 | -1): Vec2 => {
    let k = i;
    let gone = 0;
    while (gone < reach && k + way >= 0 && k + way < n) {
      const next = k + way;
      gone += view.scale * Math.hypot(line[2 * next] - line[2 * k], line[2 * next + 1] - line[2 * k + 1]);
      k = next;
    }
    return toScreen(view, [line[2 * k], line[2 * k + 1]]);
  };
  const [a, b] = [walk(-1), walk(1)];
  return readableAngle((Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI);
}
