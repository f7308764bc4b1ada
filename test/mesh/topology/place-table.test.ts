import { describe, expect, it } from 'vitest';
import { makeRandom } from '../../../src/demo/prng.ts';
import { PlaceTable } from '../../../src/mesh/topology/place-table.ts';

describe('places', () => {
  it('are numbered in the order they first come, as a map of their texts numbers them', () => {
    const random = makeRandom(5);
    // Few different coordinates, of both signs and far apart in size, so that places come again; room for two at first.
    const some = () => Math.fround(Math.round(random() * 8 - 4) * (random() < 0.5 ? 1e-3 : 1e4));
    const [table, numbers] = [new PlaceTable(2), new Map<string, number>()];
    for (let i = 0; i < 20_000; i++) {
      const place = [some(), some(), some()] as const;
      const text = place.map((v) => v + 0).join();
      if (!numbers.has(text)) numbers.set(text, numbers.size);
      expect(table.number(...place)).toBe(numbers.get(text));
    }
    expect(table.count).toBe(numbers.size);
    expect(numbers.size).toBeGreaterThan(2000);
    expect(numbers.size).toBeLessThan(10_000);
  });

  it('are one where only the sign of a zero or what single precision rounds away differs', () => {
    const table = new PlaceTable(8);
    expect(table.number(0, -0, 1)).toBe(0);
    expect(table.number(-0, 0, 1 + 1e-12)).toBe(0);
    expect(table.number(-0, 0, -1)).toBe(1);
  });
});
