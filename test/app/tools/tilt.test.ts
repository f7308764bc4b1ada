import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { homeAxis, normalOf, tiltOf, turned } from '../../../app/tools/tilt.ts';
import type { Vec3 } from '../../../src/index.ts';

const HOMES: Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
  [-1, 0, 0],
  [0, -1, 0],
  [0, 0, -1],
];
const dot = (a: Vec3, b: Vec3) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

describe('tilt', () => {
  it('of zero is the home axis, exactly', () => {
    for (const home of HOMES) {
      expect(normalOf(home, { acrossDeg: 0, alongDeg: 0 })).toEqual(home);
      expect(homeAxis(home)).toEqual(home);
    }
  });

  it('survives the way to a normal and back, from every home (seed 5)', () => {
    const angles = fc.record({
      acrossDeg: fc.double({ min: -175, max: 175, noNaN: true }),
      alongDeg: fc.double({ min: -85, max: 85, noNaN: true }),
    });
    fc.assert(
      fc.property(fc.constantFrom(...HOMES), angles, (home, tilt) => {
        const normal = normalOf(home, tilt);
        const back = tiltOf(home, normal);
        expect(Math.hypot(...normal)).toBeCloseTo(1, 8);
        expect(back.acrossDeg).toBeCloseTo(tilt.acrossDeg, 5);
        expect(back.alongDeg).toBeCloseTo(tilt.alongDeg, 5);
      }),
      { seed: 5, numRuns: 300 },
    );
  });

  it('across leans a level seam towards X, along away from Y', () => {
    const up: Vec3 = [0, 0, 1];
    expect(normalOf(up, { acrossDeg: 30, alongDeg: 0 })[0]).toBeCloseTo(0.5, 8);
    expect(normalOf(up, { acrossDeg: 0, alongDeg: 30 })[1]).toBeCloseTo(-0.5, 8);
  });
});

describe('turned', () => {
  it('turns right-handed', () => {
    expect(turned([1, 0, 0], [0, 0, 1], 90)).toEqual([0, 1, 0]);
  });

  it('keeps the angle to its axis', () => {
    const axis: Vec3 = [0.6, 0, 0.8];
    const v: Vec3 = [0, 0.6, 0.8];
    expect(dot(turned(v, axis, 37), axis)).toBeCloseTo(dot(v, axis), 8);
  });
});
