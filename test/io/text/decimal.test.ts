import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDecimal } from '../../../src/io/text/decimal.ts';
import { utf8 } from '../../support/mesh-files.ts';

const read = (text: string) => readDecimal(utf8(`<${text}>`), 1, text.length + 1);

const digits = fc.stringMatching(/^[0-9]{1,25}$/);
const spelt = fc
  .tuple(
    fc.constantFrom('', '+', '-'),
    digits,
    fc.oneof(
      fc.constant(''),
      digits.map((d) => `.${d}`),
      fc.constant('.'),
    ),
    fc.oneof(
      fc.constant(''),
      fc.tuple(fc.constantFrom('e', 'E'), fc.integer({ min: -400, max: 400 })).map(([e, n]) => `${e}${n}`),
    ),
  )
  .map((parts) => parts.join(''));

describe('a decimal number', () => {
  it('is rounded as Number rounds it, seed 61', () => {
    fc.assert(
      fc.property(spelt, (text) => {
        expect(read(text)).toBe(Number(text));
      }),
      { seed: 61, numRuns: 3000 },
    );
  });

  it('begins with its point or carries a plus', () => {
    expect([read('.5'), read('-.5'), read('+2'), read('1.')]).toEqual([0.5, -0.5, 2, 1]);
  });

  it.each([
    '',
    '.',
    '-',
    '+-1',
    '1e',
    '1e+',
    'e5',
    '1.2.3',
    '0x10',
    ' 1',
    '1 ',
    'nan',
    'Infinity',
    '1,5',
    '3.1+e2',
  ])('is not “%s”', (text) => {
    expect(read(text)).toBeNaN();
  });
});
