/**
 * Sweeps over seeds: `npm run fuzz` goes through all of them, `npm test` through the first of each, so that it ends while
 * one waits for it.
 */

/** True where every seed is wanted. */
export const isWholeSweep = process.env.PEGWRIGHT_SWEEP === 'whole';

/** Seeds from `from` on: `all` in a whole sweep, else the first `slice`. */
export const sweep = (from: number, all: number, slice: number): number[] =>
  Array.from({ length: isWholeSweep ? all : slice }, (_, i) => from + i);
