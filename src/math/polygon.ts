import { edgeBoxes, RUN } from './edge-boxes.ts';
import type { Vec2 } from './vec3.ts';

/**
 * Closed plane polygons as flat x, y pairs (mm), the last point joined to the first.
 * Counter-clockwise around material, clockwise around holes.
 */
export type Loop = Float64Array;

/** Signed area, mm²; positive counter-clockwise (shoelace formula). */
export function loopArea(loop: Loop): number {
  let twice = 0;
  const ox = loop[0];
  const oy = loop[1];
  for (let i = 0, j = loop.length - 2; i < loop.length; j = i, i += 2) {
    twice += (loop[j] - ox) * (loop[i + 1] - oy) - (loop[i] - ox) * (loop[j + 1] - oy);
  }
  return twice / 2;
}

/** Length around, mm. */
export function loopPerimeter(loop: Loop): number {
  let sum = 0;
  for (let i = 0, j = loop.length - 2; i < loop.length; j = i, i += 2) {
    sum += Math.hypot(loop[i] - loop[j], loop[i + 1] - loop[j + 1]);
  }
  return sum;
}

/** Area of a region, mm²: holes count against it. */
export const regionArea = (loops: readonly Loop[]): number =>
  loops.reduce((sum, loop) => sum + loopArea(loop), 0);

/** Length of all a region's outlines, holes' too, mm. */
export const regionPerimeter = (loops: readonly Loop[]): number =>
  loops.reduce((sum, loop) => sum + loopPerimeter(loop), 0);

export interface PolygonMoments {
  areaMm2: number;
  centroid: Vec2;
  /** Second moments about the axes through the centroid, mm⁴. */
  ixx: number;
  iyy: number;
  ixy: number;
}

/**
 * Area, centroid and second moments of a region bounded by loops (holes clockwise).
 * Steger, *On the Calculation of Arbitrary Moments of Polygons*, FGBV-96-05, 1996.
 */
export function polygonMoments(loops: readonly Loop[]): PolygonMoments {
  const ox = loops[0]?.[0] ?? 0;
  const oy = loops[0]?.[1] ?? 0;
  let a = 0;
  let sx = 0;
  let sy = 0;
  let xx = 0;
  let yy = 0;
  let xy = 0;
  for (const loop of loops) {
    for (let i = 0, j = loop.length - 2; i < loop.length; j = i, i += 2) {
      const x0 = loop[j] - ox;
      const y0 = loop[j + 1] - oy;
      const x1 = loop[i] - ox;
      const y1 = loop[i + 1] - oy;
      const w = x0 * y1 - x1 * y0;
      a += w / 2;
      sx += (w * (x0 + x1)) / 6;
      sy += (w * (y0 + y1)) / 6;
      yy += (w * (x0 * x0 + x0 * x1 + x1 * x1)) / 12;
      xx += (w * (y0 * y0 + y0 * y1 + y1 * y1)) / 12;
      xy += (w * (x0 * y1 + 2 * x0 * y0 + 2 * x1 * y1 + x1 * y0)) / 24;
    }
  }
  const cx = sx / a;
  const cy = sy / a;
  return {
    areaMm2: a,
    centroid: [cx + ox, cy + oy],
    ixx: xx - a * cy * cy,
    iyy: yy - a * cx * cx,
    ixy: xy - a * cx * cy,
  };
}

/** How often the loops wind around a point, counter-clockwise positive: 1 inside material, 0 outside or in a hole. */
export function windingAt(loops: readonly Loop[], x: number, y: number): number {
  let winding = 0;
  for (const loop of loops) {
    const boxes = edgeBoxes(loop);
    for (let run = 0; run < boxes.length; run += 4) {
      // All of its edges end on one side of the level that they would cross.
      if (boxes[run + 1] > y || boxes[run + 3] <= y) continue;
      const from = (run / 4) * RUN * 2;
      const end = Math.min(loop.length, from + RUN * 2);
      for (let i = from; i < end; i += 2) {
        const j = i === 0 ? loop.length - 2 : i - 2;
        const y0 = loop[j + 1];
        const y1 = loop[i + 1];
        if (y0 <= y === y1 <= y) continue;
        const side = (loop[i] - loop[j]) * (y - y0) - (x - loop[j]) * (y1 - y0);
        if (y0 <= y ? side > 0 : side < 0) winding += y0 <= y ? 1 : -1;
      }
    }
  }
  return winding;
}

/** Least x, least y, greatest x, greatest y, mm. */
export type LoopBox = readonly [x0: number, y0: number, x1: number, y1: number];

/** The box round loops; without any, infinite the wrong way round. */
export function boxOfLoops(loops: readonly Loop[]): LoopBox {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const loop of loops) {
    for (let i = 0; i < loop.length; i += 2) {
      x0 = Math.min(x0, loop[i]);
      x1 = Math.max(x1, loop[i]);
      y0 = Math.min(y0, loop[i + 1]);
      y1 = Math.max(y1, loop[i + 1]);
    }
  }
  return [x0, y0, x1, y1];
}
