import { orient2d } from 'robust-predicates';

/**
 * Exact signs, where rounding would decide (Shewchuk, *Adaptive precision floating-point arithmetic and fast robust
 * geometric predicates*, Discrete & Computational Geometry 18, 1997). The library's two run clockwise for a y upwards.
 */
export { orient2d, orient3d } from 'robust-predicates';

/** Twice the area of the triangle a, b, c, positive counter-clockwise with y upwards; its sign is exact. */
export const turn = (ax: number, ay: number, bx: number, by: number, cx: number, cy: number): number =>
  -orient2d(ax, ay, bx, by, cx, cy);
