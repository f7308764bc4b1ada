import { describe, expect, it } from 'vitest';
import { jointKind } from '../../src/joint/kinds.ts';
import { type Outline, outlineOfPath } from '../../src/model/outline.ts';

const kind = jointKind('outline');
const process = { name: '', sideGapMm: 0.12, endGapMm: 0.4, minWallMm: 1, bedMm: [1, 1, 1] } as const;
const settled = (outlineMm: Outline, sizes: object = {}) =>
  kind.settle({ id: 'a', kind: 'outline', at: 'auto', outlineMm, ...sizes } as never, process, {
    widthMm: 5,
    lengthShare: 1,
  });
const ofPath = (data: string): Outline => {
  const read = outlineOfPath(data);
  if ('fault' in read) throw new Error(read.fault.is);
  return read.outline;
};

const DRAWN: [string, Outline][] = [
  ['what it begins with', kind.outline!],
  ['an L', ofPath('M0 0H8V3H3V9H0Z')],
  ['an arrow with barbs', ofPath('M8 4L4 0V2H0V6H4V8Z')],
  ['a star', ofPath('M5 0L6 4L10 5L6 6L5 10L4 6L0 5L4 4Z')],
  [
    'a rectangle whose corners are rounded',
    ofPath('M1 0H7A1 1 0 0 1 8 1V5A1 1 0 0 1 7 6H1A1 1 0 0 1 0 5V1A1 1 0 0 1 1 0Z'),
  ],
  ['a circle', ofPath('M8 4A4 4 0 0 1 0 4A4 4 0 0 1 8 4Z')],
];

describe('an own outline', () => {
  it.each(DRAWN)('can be made where only it is given: %s', (_, outline) => {
    const shape = settled(outline);
    expect(kind.fault(shape)).toBeNull();
    expect(shape.lengthMm).toBeGreaterThan(2);
    expect(kind.fault(settled(outline, { lengthMm: 6 }))).toBeNull();
  });

  it('is refused where its rounded edges would run into its notches, and what would do does', () => {
    const star = DRAWN[3][1];
    const asked = { widthMm: 5, lengthMm: 2, draftDeg: 6, edgeRadiusMm: 0.8 };
    const fault = kind.fault(settled(star, asked));
    expect(fault?.reason).toBe('outline-fine');
    const { mostEdgeRadiusMm = 0, leastPercent = 0 } = fault!.would;
    expect(mostEdgeRadiusMm).toBeGreaterThan(0);
    expect(kind.fault(settled(star, { ...asked, edgeRadiusMm: mostEdgeRadiusMm }))).toBeNull();
    expect(kind.fault(settled(star, { ...asked, edgeRadiusMm: mostEdgeRadiusMm + 0.02 }))).not.toBeNull();
    expect(kind.fault(settled(star, { ...asked, widthMm: (5 * leastPercent) / 100 }))).toBeNull();
  });
});
