import type { Plane } from '../../math/plane.ts';
import { type Bounds, boundsOf } from '../../mesh/measure.ts';
import type { Part } from '../../mesh/part/part.ts';
import { allPositions } from '../../mesh/part/vertices.ts';

/**
 * A box that holds all that two parts have in common, by `marginMm` wider than both of their boxes have in common; null
 * where those lie apart. Recentred mm.
 */
export function overlapBox(a: Part, b: Part, marginMm: number): Bounds | null {
  const [one, other] = [boxOf(a), boxOf(b)];
  const min = one.min.map((low, k) => Math.max(low, other.min[k]));
  const max = one.max.map((high, k) => Math.min(high, other.max[k]));
  if (min.some((low, k) => low >= max[k])) return null;
  return {
    min: [min[0] - marginMm, min[1] - marginMm, min[2] - marginMm],
    max: [max[0] + marginMm, max[1] + marginMm, max[2] + marginMm],
  };
}

/** A part is taken off along a side of the box where it reaches so much farther, in widths of the box: less spares little. */
const WORTH = 0.5;

/** The sides of a box that a part reaches well beyond, as planes with the box behind them: those that spare most first. */
export function sidesReached(part: Part, { min, max }: Bounds): Plane[] {
  const own = boxOf(part);
  const sides = [0, 1, 2].flatMap((k) => {
    const normal = (way: number): [number, number, number] => [
      +(k === 0) * way,
      +(k === 1) * way,
      +(k === 2) * way,
    ];
    return [
      { plane: { normal: normal(1), offset: max[k] }, beyond: (own.max[k] - max[k]) / (max[k] - min[k]) },
      { plane: { normal: normal(-1), offset: -min[k] }, beyond: (min[k] - own.min[k]) / (max[k] - min[k]) },
    ];
  });
  return sides
    .filter(({ beyond }) => beyond > WORTH)
    .sort((a, b) => b.beyond - a.beyond)
    .map(({ plane }) => plane);
}

/** Of all the vertices a part brings, its own or not: a box too large costs time alone. */
function boxOf(part: Part): Bounds {
  const positions = allPositions(part);
  let box = known.get(positions);
  if (!box) {
    box = boundsOf({ positions, triangles: NONE });
    known.set(positions, box);
  }
  return box;
}
const NONE = new Uint32Array(0);

/** Kept as long as the coordinates are: each body is asked for its box several times, and anew with every gap. */
const known = new WeakMap<Float32Array, Bounds>();
