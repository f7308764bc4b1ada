import { makeRandom } from '../../../src/demo/prng.ts';

/** Throws of one seeded generator, by the names of what they are for. */
export interface Throws {
  /** Uniform between two numbers. */
  between(low: number, high: number): number;
  /** The same, as a person would type it: rounded to so many decimals. */
  round(low: number, high: number, decimals?: number): number;
  /** A whole number from 0 up to one less than `n`. */
  below(n: number): number;
  one<T>(of: readonly T[]): T;
  chance(share: number): boolean;
}

export function throwsOf(seed: number): Throws {
  const random = makeRandom(seed);
  const between = (low: number, high: number) => low + (high - low) * random();
  return {
    between,
    round: (low, high, decimals = 1) => Number(between(low, high).toFixed(decimals)),
    below: (n) => Math.floor(random() * n),
    one: (of) => of[Math.floor(random() * of.length)],
    chance: (share) => random() < share,
  };
}
