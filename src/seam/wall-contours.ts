import { contours } from 'd3-contour';
import { nearestOnLoops } from '../math/nearest-on-loops.ts';
import { boxOfLoops, type Loop } from '../math/polygon.ts';

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
  const grid = gridOver(loops);
  if (!(grid.cell > 0)) return [];
  const { x0, y0, cell, nx, ny } = grid;
  const trace = contours()
    .size([nx, ny])
    .thresholds([...levels]);
  // The library counts grid coordinates from a cell's corner, the values stand for its middle.
  return trace(wallsOn(loops, grid)).map(({ value, coordinates }) => ({
    wallMm: value,
    lines: coordinates.flatMap((polygon) =>
      polygon.map((ring) =>
        Float64Array.from(ring.flatMap(([gx, gy]) => [x0 + (gx - 0.5) * cell, y0 + (gy - 0.5) * cell])),
      ),
    ),
  }));
}

/** Points over a face, mm: x0 + i · cell, y0 + j · cell for i < nx, j < ny. */
interface Grid {
  x0: number;
  y0: number;
  cell: number;
  nx: number;
  ny: number;
}

function gridOver(loops: readonly Loop[]): Grid {
  const [x0, y0, x1, y1] = boxOfLoops(loops);
  const cell = Math.max(x1 - x0, y1 - y0) / GRID;
  return { x0, y0, cell, nx: Math.ceil((x1 - x0) / cell) + 1, ny: Math.ceil((y1 - y0) / cell) + 1 };
}

/** Distance to the outline at each grid point, row by row; negative outside. */
function wallsOn(loops: readonly Loop[], { x0, y0, cell, nx, ny }: Grid): number[] {
  const walls: number[] = [];
  for (let row = 0; row < ny; row++) {
    const y = y0 + row * cell;
    const windings = windingsAlong(loops, y, x0, cell, nx);
    for (let i = 0; i < nx; i++) {
      walls.push((windings[i] === 1 ? 1 : -1) * nearestOnLoops(loops, x0 + i * cell, y).distance);
    }
  }
  return walls;
}

/** Windings of the points of one row, from the edges that cross its line: each counts for all points on its left. */
function windingsAlong(
  loops: readonly Loop[],
  y: number,
  x0: number,
  cell: number,
  count: number,
): Int32Array {
  const windings = new Int32Array(count + 1);
  for (const loop of loops) {
    for (let i = 0, j = loop.length - 2; i < loop.length; j = i, i += 2) {
      const below = loop[j + 1] <= y;
      if (below === loop[i + 1] <= y) continue;
      const share = (y - loop[j + 1]) / (loop[i + 1] - loop[j + 1]);
      const x = loop[j] + share * (loop[i] - loop[j]);
      const left = Math.min(count, Math.max(0, Math.ceil((x - x0) / cell)));
      windings[left] += below ? 1 : -1;
    }
  }
  for (let i = count - 1; i >= 0; i--) windings[i] += windings[i + 1];
  return windings.subarray(1);
}
