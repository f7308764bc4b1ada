import { contours } from 'd3-contour';
import { nearestOnLoops } from '../math/nearest-on-loops.ts';
import { type Loop, windingAt } from '../math/polygon.ts';

/** Cells along the longer side of the face. */
const GRID = 72;

/** Curves inside a face at a fixed distance from its outline. */
export interface WallContour {
  wallMm: number;
  /** Closed, flat x, y pairs, mm in the seam's frame. */
  lines: Float64Array[];
}

/** Contours of the wall that would be left at each place of a face, one for each of `levels` (mm). */
export function wallContours(loops: readonly Loop[], levels: readonly number[]): WallContour[] {
  const xs = loops.flatMap((loop) => [...loop].filter((_, i) => i % 2 === 0));
  const ys = loops.flatMap((loop) => [...loop].filter((_, i) => i % 2 === 1));
  const [x0, y0] = [
    xs.reduce((a, b) => Math.min(a, b), Infinity),
    ys.reduce((a, b) => Math.min(a, b), Infinity),
  ];
  const [x1, y1] = [
    xs.reduce((a, b) => Math.max(a, b), -Infinity),
    ys.reduce((a, b) => Math.max(a, b), -Infinity),
  ];
  const cell = Math.max(x1 - x0, y1 - y0) / GRID;
  if (!(cell > 0)) return [];
  const nx = Math.ceil((x1 - x0) / cell) + 1;
  const ny = Math.ceil((y1 - y0) / cell) + 1;
  const walls = Array.from({ length: nx * ny }, (_, i) => {
    const x = x0 + (i % nx) * cell;
    const y = y0 + Math.floor(i / nx) * cell;
    const inside = windingAt(loops, x, y) === 1;
    return (inside ? 1 : -1) * nearestOnLoops(loops, x, y).distance;
  });
  const trace = contours()
    .size([nx, ny])
    .thresholds([...levels]);
  // The library counts grid coordinates from a cell's corner, the values stand for its middle.
  return trace(walls).map(({ value, coordinates }) => ({
    wallMm: value,
    lines: coordinates.flatMap((polygon) =>
      polygon.map((ring) =>
        Float64Array.from(ring.flatMap(([gx, gy]) => [x0 + (gx - 0.5) * cell, y0 + (gy - 0.5) * cell])),
      ),
    ),
  }));
}
