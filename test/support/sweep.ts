/**
 * Sweeps over seeds: `npm run fuzz` goes through all of them, `npm test` through the first of each, so that it ends while
 * one waits for it.
 */

/** True where every seed is wanted. */
export const isWholeSweep = process.env.PEGWRIGHT_SWEEP === 'whole';

/** How many trials: `all` in a whole sweep, else `slice`. */
export const trials = (all: number, slice: number): number => (isWholeSweep ? all : slice);

/** Seeds from `from` on, as many as there are trials. */
export const sweep = (from: number, all: number, slice: number): number[] =>
  Array.from({ length: trials(all, slice) }, (_, i) => from + i);
