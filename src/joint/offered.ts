import type { Sizes } from '../model/joint.ts';

/** The last of the offered sizes, which go from small to large, that is no wider than this (mm); undefined where none is. */
export const largestWithin = (offered: readonly Sizes[], widthMm: number): Sizes | undefined =>
  offered.findLast(({ diameterMm }) => diameterMm <= widthMm);
