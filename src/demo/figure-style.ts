import type { FeatherStyle } from './feathers.ts';
import { makeNoise, makeOctaves, type Noise } from './noise.ts';

/** What every part of the figure is drawn with: its noises, and how fine they may be. */
export interface FigureStyle {
  /** Shortest wavelength the mesh can carry, mm. */
  finestMm: number;
  noise: Noise;
  /** Feathers whose rows and columns are this far apart. */
  feathers(rowMm: number, columnMm: number): FeatherStyle;
  /** Octaves of noise from `coarsestMm` down to what the mesh can carry. */
  octaves(coarsestMm: number): Noise;
}

/** Barbs are drawn once the mesh has this, mm. */
const BARBS_FROM_MM = 0.5;

export function makeStyle(seed: number, finestMm: number): FigureStyle {
  const noise = makeNoise(seed);
  return {
    finestMm,
    noise,
    feathers: (rowMm, columnMm) => ({
      softRows: Math.max(0.06, (0.75 * finestMm) / rowMm),
      softColumns: Math.max(0.07, (0.8 * finestMm) / columnMm),
      barbs: finestMm < BARBS_FROM_MM,
    }),
    octaves: (coarsestMm) => makeOctaves(noise, coarsestMm, finestMm),
  };
}
