import { describe, expect, it } from 'vitest';
import { readTaper } from '../../../app/ui/read-taper.ts';

/** Full angles of cones by their taper, as ISO 1119 tabulates them, in a secondary copy of its table; half is the draft. */
const ISO_1119 = [
  ['1:3', 18.92464],
  ['1:5', 11.42119],
  ['1:10', 5.72481],
  ['1:20', 2.86419],
  ['1:50', 1.14588],
] as const;

describe('a draft as it is typed', () => {
  it.each(ISO_1119)('is half the angle of a cone for a taper %s', (taper, fullDeg) => {
    // The table has five places, so half of its values is right to 0.000 002 5.
    expect(Math.abs((readTaper(taper) ?? Number.NaN) - fullDeg / 2)).toBeLessThan(2.6e-6);
  });

  it('may have spaces and a decimal comma in its taper', () => {
    expect(readTaper(' 1 : 10 ')).toBe(readTaper('1:10'));
    expect(readTaper('1:12,5')).toBeCloseTo((Math.atan(1 / 25) * 180) / Math.PI, 12);
  });

  it('never takes a colon for a quotient: 2:10 is the taper 1:5', () => {
    expect(readTaper('2:10')).toBe(readTaper('1:5'));
    expect(readTaper('1：10')).toBe(readTaper('1:10'));
  });

  it('is an angle where no taper is typed', () => {
    expect(readTaper('6')).toBe(6);
    expect(readTaper('2,5°')).toBe(2.5);
  });

  it.each(['1:0', '1:-5', '1:', '1:x', '0:10', ':10', '1:10:2', 'steep'])('is none in “%s”', (text) => {
    expect(readTaper(text)).toBeNull();
  });
});
