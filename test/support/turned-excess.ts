/**
 * A judge of parts on beds that shares nothing with the engine: the size of points along the axes of a space in which they
 * are turned, by the quaternion product q p q*.
 */

type Q = readonly [number, number, number, number];

const product = (a: Q, b: Q): Q => [
  a[3] * b[0] + b[3] * a[0] + a[1] * b[2] - a[2] * b[1],
  a[3] * b[1] + b[3] * a[1] + a[2] * b[0] - a[0] * b[2],
  a[3] * b[2] + b[3] * a[2] + a[0] * b[1] - a[1] * b[0],
  a[3] * b[3] - a[0] * b[0] - a[1] * b[1] - a[2] * b[2],
];

/** From where to where points (x, y, z each) reach along each axis once they are turned, mm. */
export function turnedSpans(points: ArrayLike<number>, turn: Q): { low: number; high: number }[] {
  const back: Q = [-turn[0], -turn[1], -turn[2], turn[3]];
  const spans = [0, 1, 2].map(() => ({ low: Infinity, high: -Infinity }));
  for (let i = 0; i < points.length; i += 3) {
    const place = product(product(turn, [points[i], points[i + 1], points[i + 2], 0]), back);
    spans.forEach((span, k) => {
      span.low = Math.min(span.low, place[k]);
      span.high = Math.max(span.high, place[k]);
    });
  }
  return spans;
}

/** What they have too much for a bed then at most, mm; negative where room is left. */
export const turnedExcess = (points: ArrayLike<number>, turn: Q, bedMm: readonly number[]): number =>
  Math.max(...turnedSpans(points, turn).map(({ low, high }, k) => high - low - bedMm[k]));

/** A turn of all turns alike, from three numbers from 0 to 1 (Shoemake, *Graphics Gems III*, 1992). */
export function evenTurn(a: number, b: number, c: number): Q {
  const [s, t] = [Math.sqrt(1 - a), Math.sqrt(a)];
  const [u, v] = [2 * Math.PI * b, 2 * Math.PI * c];
  return [s * Math.sin(u), s * Math.cos(u), t * Math.sin(v), t * Math.cos(v)];
}
