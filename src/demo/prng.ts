/** A small seeded generator, so that a seed always makes the same figure on every machine. */

/** Scrambles a 32-bit integer; every input bit reaches every output bit. */
export function scramble(n: number): number {
  let h = n | 0;
  h = Math.imul(h ^ (h >>> 16), 0x7feb352d);
  h = Math.imul(h ^ (h >>> 15), 0x846ca68b);
  return (h ^ (h >>> 16)) >>> 0;
}

/** Uniform numbers in [0, 1): the scrambled counter of a Weyl sequence. */
export function makeRandom(seed: number): () => number {
  let state = scramble(seed);
  return () => {
    state = (state + 0x9e3779b9) | 0;
    return scramble(state) / 4294967296;
  };
}
