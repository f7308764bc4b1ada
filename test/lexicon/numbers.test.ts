import { describe, expect, it } from 'vitest';
import { numbersWith, THIN } from '../../src/lexicon/numbers.ts';

const { numeral, measured, threeFigures, short, typed } = numbersWith({ decimal: '.', group: THIN });

describe('a number for reading', () => {
  it('has its thousands apart and a true minus sign', () => {
    expect(numeral(26678.888, 1)).toBe('26\u202f678.9');
    expect(numeral(-1234567.5, 1)).toBe('\u22121\u202f234\u202f567.5');
    expect(numeral(1000, 0)).toBe('1\u202f000');
  });

  it('has no sign where it rounds to nothing, and is a dash where there is no number', () => {
    expect(numeral(-0.001, 1)).toBe('0.0');
    expect(numeral(Number.NaN)).toBe('–');
    expect(numeral(Number.POSITIVE_INFINITY)).toBe('–');
  });

  it('has the decimals it has a use for', () => {
    expect(measured(26678.888)).toBe('26\u202f678.9');
    expect(measured(-0.0271)).toBe('\u22120.027');
    expect(threeFigures(0.000123456)).toBe('0.000123');
    expect(threeFigures(84.96)).toBe('85');
    expect(threeFigures(12345.6)).toBe('12\u202f300');
    expect(threeFigures(1e-28)).toBe('1e\u221228');
    expect(threeFigures(0)).toBe('0');
    expect(short(1.5, 2)).toBe('1.5');
    expect(short(20, 2)).toBe('20');
  });

  it('has the signs of its language, whichever they are', () => {
    const commas = numbersWith({ decimal: ',', group: '.' });
    expect(commas.numeral(-1234567.5, 1)).toBe('\u22121.234.567,5');
    expect(commas.threeFigures(1.5e-28)).toBe('1,5e\u221228');
  });
});

describe('a number in a field', () => {
  it('is as it would be typed', () => {
    expect(typed(-12345.678, 2)).toBe('-12345.68');
    expect(typed(2, 2)).toBe('2');
    expect(typed(-0.001, 2)).toBe('0');
    expect(numbersWith({ decimal: ',', group: '.' }).typed(-12345.5, 2)).toBe('-12345,5');
  });
});
