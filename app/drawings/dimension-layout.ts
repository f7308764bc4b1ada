import type { Vec2 } from './engine.ts';
import { TUNING } from './tuning.ts';

/**
 * Dimensions laid out on the screen as ISO 129-1 has them, all in px with y down:
 * extension lines that start a little off the feature and overrun the dimension line,
 * slim filled arrowheads, text above the line and parallel to it, read from below or from the right.
 */

export type Line = readonly [Vec2, Vec2];

export interface Arrow {
  tip: Vec2;
  /** Direction the arrow points in, radians on the screen. */
  angle: number;
}

export interface DimensionLayout {
  extensions: Line[];
  line: Line;
  arrows: Arrow[];
  /** Whether arrows and text found room between the extension lines. */
  inside: boolean;
  /** Middle of the text's baseline, and its turn clockwise in degrees. */
  text: { at: Vec2; angleDeg: number };
}

export interface DimensionOptions {
  /** Signed distance of the dimension line from the features, to the right of from → to. */
  offset?: number;
  /** Length the text takes along the line. */
  textPx: number;
  /** At which end the text stands when it finds no room between. */
  textAt?: 'from' | 'to';
  /** Direction of the line when both features fall together. */
  along?: Vec2;
}

const shift = (p: Vec2, d: Vec2, by: number): Vec2 => [p[0] + d[0] * by, p[1] + d[1] * by];

/** Turns an angle (degrees) so that text along it is read from below or from the right: −90 ≤ a < 90. */
export function readableAngle(deg: number): number {
  const a = ((((deg + 90) % 180) + 180) % 180) - 90;
  return a > 90 - 1e-6 ? a - 180 : a;
}

/** Point above a text line of the given turn, lifted off it by `by` px. */
export function liftText(p: Vec2, angleDeg: number, by: number): Vec2 {
  const a = (angleDeg * Math.PI) / 180;
  return [p[0] + Math.sin(a) * by, p[1] - Math.cos(a) * by];
}

/** Lays out the distance from one screen point to another. */
export function layoutDimension(from: Vec2, to: Vec2, options: DimensionOptions): DimensionLayout {
  const { offset = 0, textPx, textAt = 'to', along = [1, 0] } = options;
  const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const d: Vec2 = length > 1e-6 ? [(to[0] - from[0]) / length, (to[1] - from[1]) / length] : along;
  const n: Vec2 = [-d[1], d[0]];
  const a = shift(from, n, offset);
  const b = shift(to, n, offset);
  const inside = length >= textPx + 2 * TUNING.arrowPx + 4;
  const angle = Math.atan2(d[1], d[0]);
  const tail = TUNING.arrowPx + 4;
  const shelf = tail + textPx + 2;
  const start = inside ? a : shift(a, d, textAt === 'from' ? -shelf : -tail - 4);
  const end = inside ? b : shift(b, d, textAt === 'to' ? shelf : tail + 4);
  const middle = inside
    ? shift(a, d, length / 2)
    : textAt === 'to'
      ? shift(b, d, tail + textPx / 2)
      : shift(a, d, -tail - textPx / 2);
  const angleDeg = readableAngle((angle * 180) / Math.PI);
  const turn = inside ? Math.PI : 0;
  return {
    extensions: offset === 0 ? [] : [extension(from, n, offset), extension(to, n, offset)],
    line: [start, end],
    arrows: [
      { tip: a, angle: angle + turn },
      { tip: b, angle: angle + Math.PI + turn },
    ],
    inside,
    text: { at: liftText(middle, angleDeg, TUNING.textLiftPx), angleDeg },
  };
}

function extension(p: Vec2, n: Vec2, offset: number): Line {
  const way = Math.sign(offset);
  return [shift(p, n, way * TUNING.extensionGapPx), shift(p, n, offset + way * TUNING.extensionOverrunPx)];
}

/** The three corners of an arrowhead. */
export function arrowhead({ tip, angle }: Arrow): readonly [Vec2, Vec2, Vec2] {
  const half = ((TUNING.arrowDeg / 2) * Math.PI) / 180;
  const l = TUNING.arrowPx / Math.cos(half);
  const corner = (a: number): Vec2 => [tip[0] - l * Math.cos(a), tip[1] - l * Math.sin(a)];
  return [tip, corner(angle - half), corner(angle + half)];
}

/** Length that `text` takes in the drawing's monospaced numerals. */
export const numeralsPx = (text: string): number => text.length * TUNING.numeralAspect * TUNING.numeralPx;
