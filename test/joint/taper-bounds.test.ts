import { describe, expect, it } from 'vitest';
import { makeRandom } from '../../src/demo/prng.ts';
import type { ShapeBounds, ShapeFault } from '../../src/joint/kind.ts';
import { jointKind } from '../../src/joint/kinds.ts';
import type { JointShape } from '../../src/model/joint.ts';
import { LIMITS } from '../../src/model/limits.ts';

const { fault: faultOf } = jointKind('taper');

const sizes = {
  kind: 'taper',
  widthMm: 4,
  heightMm: 5,
  lengthMm: 6,
  draftDeg: 6,
  edgeRadiusMm: 0.5,
  sideGapMm: 0.1,
  endGapMm: 0.3,
};

/** True where the second is the first or up to a hundredth more. */
const stepFrom = (low = Number.NaN, high = Number.NaN) => high - low > -1e-9 && high - low < 0.01 + 1e-9;

/** What would make a shape possible that cannot be made for that reason. */
function boundsOf(shape: JointShape, reason: ShapeFault['reason']): ShapeBounds {
  const fault = faultOf(shape);
  expect(fault?.reason).toBe(reason);
  return fault!.would;
}

describe('what would make a peg possible', () => {
  it('is known for a radius too large, by hand: (w/2 − 0.05) cos α, less what the draft takes to the tip', () => {
    const would = boundsOf({ ...sizes, draftDeg: 0, edgeRadiusMm: 2.2 }, 'edge-radius');
    expect(Object.keys(would)).toEqual(['leastWidthMm', 'mostEdgeRadiusMm']);
    expect(stepFrom(4.5, would.leastWidthMm)).toBe(true);
    expect(stepFrom(would.mostEdgeRadiusMm, 1.95)).toBe(true);
  });

  it('is known for a draft too steep, by hand: length (w/2 − r / cos α − 0.05) / tan α + r − longer socket', () => {
    const would = boundsOf({ ...sizes, draftDeg: 25 }, 'draft');
    const a = (25 * Math.PI) / 180;
    const longest = (2 - 0.5 / Math.cos(a) - 0.05) / Math.tan(a) + 0.5 - 0.2;
    expect(would.mostLengthMm).toBeCloseTo(Math.floor(longest * 100) / 100, 9);
  });

  it('is known for a length within the rounded edge', () => {
    const would = boundsOf({ ...sizes, lengthMm: 0.5 }, 'too-short');
    expect(Object.keys(would)).toEqual(['leastLengthMm', 'mostEdgeRadiusMm']);
    expect(stepFrom(0.55, would.leastLengthMm)).toBe(true);
    expect(stepFrom(would.mostEdgeRadiusMm, 0.45)).toBe(true);
  });

  it('does, each alone, and a step less would not, seed 3', () => {
    const rng = makeRandom(3);
    let tried = 0;
    for (let i = 0; i < 400; i++) {
      const between = ([low, high]: readonly [number, number]) => low + rng() * (high - low);
      const shape = {
        kind: 'taper',
        widthMm: between([0.6, 12]),
        heightMm: between([0.6, 12]),
        lengthMm: between([0.4, 14]),
        draftDeg: between(LIMITS.draftDeg),
        edgeRadiusMm: between([0, 5]),
        sideGapMm: between([0, 0.6]),
        endGapMm: between([0, 0.6]),
      };
      const fault = faultOf(shape);
      if (fault === null) continue;
      const { would } = fault;
      const check = (size: number | undefined, step: number, sized: (mm: number) => object) => {
        if (size === undefined) return;
        tried++;
        expect(faultOf({ ...shape, ...sized(size) })).toBeNull();
        expect(faultOf({ ...shape, ...sized(size + step) })).not.toBeNull();
      };
      const { widthMm, heightMm } = shape;
      check(would.leastWidthMm, -0.011, (mm) => ({
        widthMm: Math.max(widthMm, mm),
        heightMm: Math.max(heightMm, mm),
      }));
      check(would.leastLengthMm, -0.011, (lengthMm) => ({ lengthMm }));
      check(would.mostLengthMm, 0.011, (lengthMm) => ({ lengthMm }));
      check(would.mostEdgeRadiusMm, 0.011, (edgeRadiusMm) => ({ edgeRadiusMm }));
      check(would.mostDraftDeg, 0.11, (draftDeg) => ({ draftDeg }));
    }
    expect(tried).toBeGreaterThan(200);
  });
});
