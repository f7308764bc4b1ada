import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { denseIds } from '../../../src/mesh/topology/dense-ids.ts';

describe('dense ids', () => {
  it('are equal where the ids are, and every one is below the count, seed 71', () => {
    fc.assert(
      fc.property(
        fc.nat(60),
        fc.nat(60),
        fc.array(fc.nat(1_000_000), { maxLength: 80 }),
        (first, span, random) => {
          const end = first + span;
          const ids = Uint32Array.from(random, (n) => n % Math.max(1, end));
          const { numbers, count } = denseIds(ids, first, end);
          const known = new Map<number, number>();
          ids.forEach((id, i) => {
            expect(numbers[i]).toBeLessThan(Math.max(1, count));
            expect(known.get(id) ?? numbers[i]).toBe(numbers[i]);
            known.set(id, numbers[i]);
          });
          expect(new Set(known.values()).size).toBe(known.size);
          expect(count).toBeLessThanOrEqual(span + known.size);
        },
      ),
      { seed: 71, numRuns: 300 },
    );
  });
});
