import type { Corners } from './triangle-distance.ts';

/** Least height (mm) of a triangle over a plane: four numbers at `at`, unit normal and offset. */
export function triangleHeight(planes: Float64Array, at: number, t: Corners): number {
  const nx = planes[at];
  const ny = planes[at + 1];
  const nz = planes[at + 2];
  const a = nx * t[0] + ny * t[1] + nz * t[2];
  const b = nx * t[3] + ny * t[4] + nz * t[5];
  const c = nx * t[6] + ny * t[7] + nz * t[8];
  return Math.min(a, b, c) - planes[at + 3];
}
