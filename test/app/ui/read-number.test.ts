import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readNumber } from '../../../app/ui/read-number.ts';

const all = (cases: Record<string, number | null>, unit: 'mm' | '°' | '' = 'mm') => {
  for (const [text, value] of Object.entries(cases)) {
    const read = readNumber(text, unit);
    if (value === null) expect(read, text).toBeNull();
    else expect(read, text).toBeCloseTo(value, 9);
  }
};

describe('a number as it is typed', () => {
  it('has a decimal comma or point', () => {
    all({
      '0,2': 0.2,
      '0.2': 0.2,
      ',5': 0.5,
      '.5': 0.5,
      '12,': 12,
      '1,234': 1.234,
      '1.234': 1.234,
      '５,２': 5.2,
    });
  });

  it('may have its thousands apart', () => {
    all({
      '1 234,5': 1234.5,
      '1 234 567': 1234567,
      '1.234,5': 1234.5,
      '1,234.5': 1234.5,
      '1.234.567': 1234567,
      '1,234,567.25': 1234567.25,
      "12'345.6": 12345.6,
      '12’345,6': 12345.6,
      '1.23.4': null,
      '1,23,4.5': null,
      '12 34': null,
    });
  });

  it('may have a sign, the typographic one too', () => {
    all({ '-3': -3, '−3,5': -3.5, '+4': 4, '--4': null, '- 2': -2 });
  });

  it('may have a unit, which is converted', () => {
    all({
      '1 in': 25.4,
      '1in': 25.4,
      '1"': 25.4,
      '1″': 25.4,
      '2,5 cm': 25,
      '0.1m': 100,
      '200 µm': 0.2,
      '1 ft': 304.8,
      '1′': 304.8,
      '3 mm': 3,
      '3 kg': null,
      '3°': null,
      mm: null,
    });
    all({ '45°': 45, '45 deg': 45, '1 rad': 180 / Math.PI, '3 mm': null }, '°');
    all({ '12': 12, '12 mm': null }, '');
  });

  it('may be a simple sum', () => {
    all({
      '12/2': 6,
      '12:2': 6,
      '1/2 in': 12.7,
      '½ in': 12.7,
      '3 1/2 in': 88.9,
      '3½ in': 88.9,
      '25.4mm/2': 12.7,
      '3*2in': 152.4,
      '1 in + 3 mm': 28.4,
      '2×(3+4)': 14,
      '2·3−1': 5,
      '10 - 2,5': 7.5,
      '6/-2': -3,
      '1 in * 1 in': null,
      '(1+2': null,
      '1+': null,
      '1/0': null,
      '2 3': null,
    });
  });

  it('is nothing where it means no number', () => {
    all({
      '': null,
      ' ': null,
      abc: null,
      '1,2,3': null,
      '5 apples': null,
      '1e': null,
      NaN: null,
      Infinity: null,
    });
  });

  it('comes back from every way of writing it, seed 211', () => {
    const value = fc.integer({ min: -99_999_999, max: 99_999_999 });
    fc.assert(
      fc.property(value, fc.constantFrom('en-GB', 'de-DE', 'fr-FR', 'de-CH', 'sv-SE'), (n, locale) => {
        const hundredths = n / 100;
        const text = new Intl.NumberFormat(locale, { minimumFractionDigits: 2 }).format(hundredths);
        expect(readNumber(text, 'mm')).toBeCloseTo(hundredths, 6);
        expect(readNumber(`${text} mm`, 'mm')).toBeCloseTo(hundredths, 6);
      }),
      { seed: 211 },
    );
  });
});
