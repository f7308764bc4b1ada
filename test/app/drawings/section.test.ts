import { describe, expect, it } from 'vitest';
import { cutJoint, isSameJoint } from '../../../app/drawings/cut-joint.ts';
import { chooseDetail, sectionPanel, tipCorner, wayOf } from '../../../app/drawings/section-layout.ts';
import {
  endGapAt,
  gapOutline,
  isWholeJoint,
  pegExtent,
  sideGapAt,
} from '../../../app/drawings/section-measure.ts';
import type { JointResult, JointSection } from '../../../src/pipeline/evaluation.ts';

const lean = Math.tan((6 * Math.PI) / 180);
const shift = 0.2 / Math.cos((6 * Math.PI) / 180);

/** A straight-edged profile of half width `w` at the face and height `h`, left foot first. */
const profile = (w: number, h: number): Float64Array =>
  Float64Array.of(-w, 0, -w + h * lean, h, w - h * lean, h, w, 0);
const reversed = (o: Float64Array): Float64Array => {
  const out = new Float64Array(o.length);
  for (let i = 0; i < o.length; i += 2) out.set([o[o.length - 2 - i], o[o.length - 1 - i]], i);
  return out;
};

const section: JointSection = {
  seamId: 'neck',
  jointId: 'a',
  across: 'width',
  frame: { origin: [0, 0, 0], u: [1, 0, 0], v: [0, 0, 1], n: [0, -1, 0] },
  pegged: [],
  socketed: [],
  pegProfile: profile(3, 6),
  socketProfile: reversed(profile(3 + shift, 6.4)),
  footMm: 0,
  further: [],
  loose: [],
};
const peg = {
  id: 'a',
  kind: 'taper',
  at: [0, 0, 0],
  widthMm: 6,
  heightMm: 4,
  lengthMm: 6,
  draftDeg: 6,
  edgeRadiusMm: 0.8,
  spinDeg: 0,
  sideGapMm: 0.2,
  endGapMm: 0.4,
} as const;
const result: JointResult = {
  index: 0,
  settled: peg,
  facet: 0,
  way: 'local',
  axis: [0, 0, 1],
  sideGapMm: { min: 0.2, mean: 0.2, max: 0.2 },
  endGapMm: { min: 0.4, mean: 0.4, max: 0.4 },
  wallMm: { min: 2, at: [5, 0, 1] },
  glueMm3: 1,
  addedMm3: 1,
  takenMm3: 1,
  outlines: [],
  faceWall: null,
};

describe('measures in a section', () => {
  it('finds the side gap square to the side, on both sides', () => {
    expect(sideGapAt(section, -1, 2)?.mm).toBeCloseTo(0.2, 12);
    expect(sideGapAt(section, 1, 2)?.mm).toBeCloseTo(0.2, 12);
    expect(sideGapAt(section, 1, 2)?.from[0]).toBeCloseTo(3 - 2 * lean, 12);
    expect(sideGapAt(section, 1, 9)).toBeNull();
  });

  it('finds the end gap along the axis', () => {
    expect(endGapAt(section, 0.5)?.mm).toBeCloseTo(0.4, 12);
    expect(endGapAt(section, 5)).toBeNull();
  });

  it('reads width at the face and length whichever way the profile runs', () => {
    for (const pegProfile of [section.pegProfile, reversed(section.pegProfile)]) {
      expect(pegExtent({ ...section, pegProfile })).toMatchObject({
        left: [-3, 0],
        right: [3, 0],
        widthMm: 6,
        lengthMm: 6,
      });
    }
  });

  it('closes the gap between the profiles whichever way they run', () => {
    const area = (o: Float64Array) => {
      let twice = 0;
      for (let i = 0, j = o.length - 2; i < o.length; j = i, i += 2)
        twice += o[j] * o[i + 1] - o[i] * o[j + 1];
      return Math.abs(twice / 2);
    };
    const expected = area(section.socketProfile) - area(section.pegProfile);
    expect(area(gapOutline(section))).toBeCloseTo(expected, 10);
    expect(area(gapOutline({ ...section, pegProfile: reversed(section.pegProfile) }))).toBeCloseTo(
      expected,
      10,
    );
  });
});

describe('a joint in a section', () => {
  it('is whole where peg and socket run from foot to foot', () => {
    expect(isWholeJoint(section)).toBe(true);
    // A peg over the edge is seen from below as well; its socket ends in the open.
    const over = Float64Array.of(...section.pegProfile, 1.5, 0);
    expect(isWholeJoint({ ...section, pegProfile: over })).toBe(false);
    const broken = section.socketProfile.slice(0, -2);
    expect(isWholeJoint({ ...section, socketProfile: broken })).toBe(false);
    expect(isWholeJoint({ ...section, socketProfile: new Float64Array() })).toBe(false);
  });

  const joint = cutJoint(section, result);
  it('is the same wherever it stands, and whatever wall it leaves', () => {
    const moved = {
      ...result,
      settled: { ...peg, at: [1, 2, 0] as const },
      wallMm: { min: 1, at: [4, 0, 1] as const },
    };
    expect(isSameJoint(joint, cutJoint({ ...section, pegged: [profile(9, 9)] }, moved))).toBe(true);
  });

  it('is another when it measures otherwise, by what is said of it', () => {
    const measured = (mean: number) =>
      cutJoint(section, { ...result, endGapMm: { ...result.endGapMm!, mean } });
    expect(isSameJoint(joint, measured(0.4000004))).toBe(true);
    expect(isSameJoint(joint, measured(0.41))).toBe(false);
    expect(isSameJoint(joint, cutJoint({ ...section, pegProfile: profile(3, 6) }, result))).toBe(false);
  });
});

describe('the sheet of a section', () => {
  const along = (v: [number, number, number]): JointSection => ({
    ...section,
    frame: { ...section.frame, v },
  });

  it('has the upper part above: the tip points the way it points in the world', () => {
    expect(wayOf(along([0, 0, 1]))).toBe(1);
    expect(wayOf(along([0, 0, -1]))).toBe(-1);
    expect(wayOf(along([0.8, 0, -0.6]))).toBe(-1);
  });

  it('has the tip up where the axis lies level, whatever the noise of turning', () => {
    expect(wayOf(along([0, 1, 0]))).toBe(1);
    expect(wayOf(along([1, 0, -1e-9]))).toBe(1);
  });

  it('takes the peg’s size across the cut', () => {
    const across = (which: JointSection['across']) => cutJoint({ ...section, across: which }, result);
    expect(tipCorner(across('width'), 1)[0]).toBeCloseTo(3 - 6 * lean, 12);
    expect(tipCorner(across('height'), -1)[0]).toBeCloseTo(-(2 - 6 * lean), 12);
  });

  it('enlarges the tip corner as far as the edge and both gaps still show', () => {
    const detail = chooseDetail(cutJoint(section, result), 60);
    expect(detail.ratio).toBe(10);
    expect(detail.radius).toBeGreaterThanOrEqual(1.7 * peg.edgeRadiusMm);
    expect(chooseDetail(cutJoint(section, result), 120).ratio).toBe(20);
  });

  it.each([
    [380, 270],
    [320, 232],
    [600, 470],
    [300, 420],
    [260, 200],
  ])('keeps window and detail apart and on a sheet of %d × %d', (width, height) => {
    for (const way of [1, -1] as const) {
      const { window, detail } = sectionPanel({ width, height }, way);
      expect(window.width).toBeGreaterThan(60);
      expect(window.height).toBeGreaterThan(60);
      expect(detail.at[0] + detail.radius).toBeLessThanOrEqual(width);
      expect(detail.at[1] + detail.radius).toBeLessThanOrEqual(height);
      const beside = detail.at[0] - detail.radius >= window.x + window.width;
      const below = detail.at[1] - detail.radius >= window.y + window.height + 40;
      expect(beside || below).toBe(true);
    }
  });
});
