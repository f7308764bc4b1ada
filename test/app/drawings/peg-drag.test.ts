import { describe, expect, it } from 'vitest';
import { dragPeg, handlesOf, pegKey, restorePatch, wrapDegrees } from '../../../app/drawings/peg-drag.ts';
import type { PegShape } from '../../../app/drawings/peg-shape.ts';
import { LIMITS } from '../../../src/model/limits.ts';

const shape: PegShape = {
  uv: [2, 1],
  pegOn: 'back',
  sizes: {
    kind: 'taper',
    widthMm: 6,
    heightMm: 4,
    lengthMm: 5,
    draftDeg: 6,
    edgeRadiusMm: 0.8,
    spinDeg: 30,
    sideGapMm: 0.2,
    endGapMm: 0.4,
  },
};
const round: PegShape = {
  uv: [2, 1],
  pegOn: 'back',
  sizes: {
    kind: 'round',
    diameterMm: 6,
    lengthMm: 5,
    draftDeg: 6,
    edgeRadiusMm: 0.8,
    sideGapMm: 0.2,
    endGapMm: 0.4,
  },
};
const along = (deg: number, by: number): [number, number] => [
  by * Math.cos((deg * Math.PI) / 180),
  by * Math.sin((deg * Math.PI) / 180),
];

describe('dragging a peg', () => {
  it('moves its middle by the drag, to a hundredth', () => {
    expect(dragPeg(shape, 'body', [0, 0], [1.2345, -0.5])).toEqual({ uv: [3.23, 0.5] });
  });

  it('grows both sides alike along its own axes', () => {
    expect(dragPeg(shape, 'right', [0, 0], along(30, 0.5))).toEqual({ sizes: { widthMm: 7 } });
    expect(dragPeg(shape, 'left', [0, 0], along(30, 0.5))).toEqual({ sizes: { widthMm: 5 } });
    expect(dragPeg(shape, 'top', [0, 0], along(120, 0.5))).toEqual({ sizes: { heightMm: 5 } });
    expect(dragPeg(shape, 'bottom', [0, 0], along(120, 0.5))).toEqual({ sizes: { heightMm: 3 } });
  });

  it('keeps to the limits of size', () => {
    expect(dragPeg(shape, 'right', [0, 0], along(30, -50))).toEqual({
      sizes: { widthMm: LIMITS.pegWidthMm[0] },
    });
    expect(dragPeg(shape, 'right', [0, 0], along(30, 500))).toEqual({
      sizes: { widthMm: LIMITS.pegWidthMm[1] },
    });
  });

  it('spins with the hand about its middle, and in quarters of a right angle when coarse', () => {
    const from: [number, number] = [2 + 5, 1];
    const to: [number, number] = [2 + along(40, 5)[0], 1 + along(40, 5)[1]];
    expect(dragPeg(shape, 'spin', from, to)).toEqual({ sizes: { spinDeg: 70 } });
    expect(dragPeg(shape, 'spin', from, to, true)).toEqual({ sizes: { spinDeg: 75 } });
  });
});

describe('a round peg', () => {
  it('has a grip on each of its four sides and none to spin it', () => {
    expect(handlesOf(round)).toEqual(['right', 'left', 'top', 'bottom']);
    expect(handlesOf(shape)).toEqual(['right', 'left', 'top', 'bottom', 'spin']);
  });

  it('changes its diameter by each of them, about its middle', () => {
    expect(dragPeg(round, 'right', [0, 0], [0.5, 3])).toEqual({ sizes: { diameterMm: 7 } });
    expect(dragPeg(round, 'left', [0, 0], [0.5, 3])).toEqual({ sizes: { diameterMm: 5 } });
    expect(dragPeg(round, 'top', [0, 0], [3, 0.5])).toEqual({ sizes: { diameterMm: 7 } });
    expect(dragPeg(round, 'bottom', [0, 0], [3, 0.5])).toEqual({ sizes: { diameterMm: 5 } });
    expect(dragPeg(round, 'top', [0, 0], [0, -50])).toEqual({ sizes: { diameterMm: LIMITS.pegWidthMm[0] } });
  });

  it('moves and sizes by the keys, and leaves those that spin alone', () => {
    expect(pegKey(round, 'ArrowLeft', false)).toEqual({ uv: [1.9, 1] });
    expect(pegKey(round, '+', false)).toEqual({ sizes: { diameterMm: 6.1 } });
    expect(pegKey(round, ']', false)).toBeNull();
    expect(dragPeg(round, 'spin', [7, 1], [2, 6])).toEqual({});
  });
});

describe('keys on a peg', () => {
  it('step by a tenth, and by one with Shift', () => {
    expect(pegKey(shape, 'ArrowLeft', false)).toEqual({ uv: [1.9, 1] });
    expect(pegKey(shape, 'ArrowUp', true)).toEqual({ uv: [2, 2] });
    expect(pegKey(shape, ']', false)).toEqual({ sizes: { spinDeg: 31 } });
    expect(pegKey(shape, '-', false)).toEqual({ sizes: { widthMm: 5.9, heightMm: 3.9 } });
    expect(pegKey(shape, '+', true)).toEqual({ sizes: { widthMm: 6.1, heightMm: 4.1 } });
  });

  it('leave other keys alone', () => {
    expect(pegKey(shape, 'a', false)).toBeNull();
    expect(pegKey(shape, 'Tab', false)).toBeNull();
  });
});

it('puts back exactly the fields that a gesture changed', () => {
  expect(restorePatch(shape, { uv: [9, 9], sizes: { spinDeg: 0 } })).toEqual({
    uv: [2, 1],
    sizes: { spinDeg: 30 },
  });
  expect(restorePatch(shape, {})).toEqual({});
});

it('wraps degrees into half a turn either way', () => {
  expect([190, -190, 180, -180, 720].map(wrapDegrees)).toEqual([-170, 170, 180, 180, 0]);
});
