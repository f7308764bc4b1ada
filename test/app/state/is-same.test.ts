import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isSame } from '../../../app/state/is-same.ts';

const fields = fc.constantFrom('a', 'b', 'c');
const values = fc.constantFrom(0, 1, 'x', true, null, undefined, []);
/** Small documents of few values, so that equal ones come up. */
const { documents } = fc.letrec((tie) => ({
  documents: fc.oneof(
    { maxDepth: 3, withCrossShrink: true },
    values,
    fc.array(
      tie('documents').filter((one) => one !== undefined),
      { maxLength: 2 },
    ),
    fc.dictionary(fields, tie('documents'), { maxKeys: 2 }),
  ),
}));

/** As it would be saved, the fields of objects in the order of their names. */
const saved = (value: unknown): string =>
  JSON.stringify(value, (_, one) =>
    typeof one === 'object' && one !== null && !Array.isArray(one)
      ? Object.fromEntries(Object.entries(one).sort(([a], [b]) => (a < b ? -1 : 1)))
      : one,
  );

describe('the same as documents', () => {
  it('is what is saved alike', () => {
    fc.assert(
      fc.property(documents, documents, (a, b) => {
        expect(isSame(a, b)).toBe(saved(a) === saved(b));
        expect(isSame(a, structuredClone(a))).toBe(true);
      }),
      { seed: 31, numRuns: 3000 },
    );
  });

  it('is told from what is longer, shorter, or of another kind', () => {
    expect(isSame([1, 2], [1])).toBe(false);
    expect(isSame([1], [1, 2])).toBe(false);
    expect(isSame<unknown>([], {})).toBe(false);
    expect(isSame<unknown>({ a: { b: [0, 1] } }, { a: { b: [0, 2] } })).toBe(false);
    expect(isSame<unknown>({ a: undefined }, {})).toBe(true);
    expect(isSame<unknown>({}, { a: undefined })).toBe(true);
    expect(isSame<unknown>(null, {})).toBe(false);
    expect(isSame(-0, 0)).toBe(true);
    expect(isSame(Number.NaN, Number.NaN)).toBe(true);
  });
});
