import { describe, expect, it } from 'vitest';
import { placeHash } from '../../../src/mesh/topology/place-hash.ts';

/** Pairs of places that fall into one of twice as many slots, for each place; a quarter where they fall by chance. */
function pairsEach(places: readonly (readonly number[])[]): number {
  const bits = new Int32Array(Float32Array.from(places.flat()).buffer);
  const slots = new Uint8Array(2 ** Math.ceil(Math.log2(places.length * 2)));
  let pairs = 0;
  for (let i = 0; i < bits.length; i += 3) {
    pairs += slots[placeHash(bits[i], bits[i + 1], bits[i + 2]) & (slots.length - 1)]++;
  }
  return pairs / places.length;
}

const side = Array.from({ length: 32 }, (_, i) => i);
const GRIDS: [string, number[][]][] = [
  ['whole numbers', side.flatMap((x) => side.flatMap((y) => side.map((z) => [x, y, z])))],
  ['sevenths', side.flatMap((x) => side.flatMap((y) => side.map((z) => [x / 7, y / 7, z / 7])))],
  ['powers of two', side.flatMap((x) => side.flatMap((y) => side.map((z) => [2 ** x, 2 ** y, 2 ** z])))],
];

describe('the hash of a place', () => {
  it.each(GRIDS)('spreads %s over a table as chance would', (_, grid) => {
    expect(pairsEach(grid)).toBeLessThan(0.4);
  });

  it.each(GRIDS)('keeps %s and their mirror images in one, two and three axes apart', (_, grid) => {
    const signs = [-1, 1].flatMap((x) => [-1, 1].flatMap((y) => [-1, 1].map((z) => [x, y, z])));
    const mirrored = grid
      .filter((place) => !place.includes(0))
      .flatMap((place) => signs.map((sign) => place.map((v, k) => v * sign[k])));
    expect(pairsEach(mirrored)).toBeLessThan(0.4);
  });

  it('takes both zeros for one', () => {
    const [zero, minusZero] = new Int32Array(Float32Array.of(0, -0).buffer);
    expect(placeHash(minusZero, minusZero, minusZero)).toBe(placeHash(zero, zero, zero));
  });
});
