import type { Vec2 } from '../../math/vec3.ts';

/** An affine map of the plane as SVG writes one (SVG 1.1, §7.4): x' = a·x + c·y + e, y' = b·x + d·y + f. */
export type Affine2 = readonly [a: number, b: number, c: number, d: number, e: number, f: number];

export const SAME: Affine2 = [1, 0, 0, 1, 0, 0];

export const applied = ([a, b, c, d, e, f]: Affine2, [x, y]: Vec2): Vec2 => [
  a * x + c * y + e,
  b * x + d * y + f,
];

/** First `inner`, then `outer`. */
export function compose(outer: Affine2, inner: Affine2): Affine2 {
  const [a, b, c, d, e, f] = outer;
  const way = (x: number, y: number): Vec2 => [a * x + c * y, b * x + d * y];
  const [x, y, at] = [way(inner[0], inner[1]), way(inner[2], inner[3]), way(inner[4], inner[5])];
  return [...x, ...y, at[0] + e, at[1] + f];
}

/** No map makes a length more than this many times as long. */
export const mostStretch = ([a, b, c, d]: Affine2): number => Math.hypot(a, b, c, d);

const STEP = /\s*,?\s*(matrix|translate|scale|rotate|skewX|skewY)\s*\(([^)]*)\)\s*/y;

/** A `transform` attribute (SVG 1.1, §7.6); null where it is none. */
export function readTransform(text: string): Affine2 | null {
  let map = SAME;
  STEP.lastIndex = 0;
  for (let at = 0; at < text.trimEnd().length; at = STEP.lastIndex) {
    const [, name, list] = STEP.exec(text) ?? [];
    const numbers = (list ?? '')
      .trim()
      .split(/[\s,]+/)
      .map(Number);
    const step =
      name === undefined || numbers.some((n) => !Number.isFinite(n)) ? null : stepOf(name, numbers);
    if (step === null) return null;
    map = compose(map, step);
  }
  return map;
}

function stepOf(name: string, [a, b, c, ...rest]: readonly number[]): Affine2 | null {
  if (a === undefined) return null;
  const angle = (a * Math.PI) / 180;
  switch (name) {
    case 'matrix': {
      const [d, e, f] = rest;
      if (b === undefined || c === undefined || f === undefined) return null;
      return [a, b, c, d!, e!, f];
    }
    case 'translate':
      return [1, 0, 0, 1, a, b ?? 0];
    case 'scale':
      return [a, 0, 0, b ?? a, 0, 0];
    case 'skewX':
      return [1, 0, Math.tan(angle), 1, 0, 0];
    case 'skewY':
      return [1, Math.tan(angle), 0, 1, 0, 0];
    default: {
      const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
      const [x, y] = [b ?? 0, c ?? 0];
      return [cos, sin, -sin, cos, x - cos * x + sin * y, y - sin * x - cos * y];
    }
  }
}
