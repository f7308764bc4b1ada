import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { proposeUnit } from '../../src/model/propose-unit.ts';
import { MM_PER_UNIT, UNITS } from '../../src/model/units.ts';

describe('the unit proposed for a figure', () => {
  it.each([
    ['a miniature in mm', 28, 'mm'],
    ['a figure in mm', 180, 'mm'],
    ['a life-size scan in mm', 1750, 'mm'],
    ['a person in metres', 1.75, 'm'],
    ['a figure in metres', 0.18, 'm'],
    ['a figure in centimetres', 18, 'cm'],
    ['a statue in centimetres', 12, 'cm'],
    ['a figure in microns', 180_000, 'micron'],
  ] as const)('is right for %s', (_, size, unit) => {
    expect(proposeUnit([size / 3, size / 2, size])).toBe(unit);
  });

  it('makes the figure plausible wherever some unit does, and is mm where mm does', () => {
    fc.assert(
      fc.property(fc.double({ min: -9, max: 9, noNaN: true }), (decade) => {
        const size = 10 ** decade;
        const isPlausible = (mm: number) => mm >= 20 && mm <= 2500;
        const proposed = proposeUnit([size, 0, 0]);
        if (isPlausible(size)) expect(proposed).toBe('mm');
        if (UNITS.some((unit) => isPlausible(size * MM_PER_UNIT[unit])))
          expect(isPlausible(size * MM_PER_UNIT[proposed])).toBe(true);
      }),
      { seed: 7, numRuns: 500 },
    );
  });

  it('is mm for nothing at all', () => {
    expect(proposeUnit([0, 0, 0])).toBe('mm');
  });
});
