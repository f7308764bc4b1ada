import { describe, expect, it } from 'vitest';
import {
  fromPegAxes,
  isSameShape,
  type PegShape,
  pegShape,
  roundedRectangle,
} from '../../../app/drawings/peg-shape.ts';

const shape: PegShape = {
  uv: [2, -1],
  widthMm: 6,
  heightMm: 4,
  spinDeg: 0,
  edgeRadiusMm: 0.8,
  socketOffsetMm: 0.2,
};

function areaOf(o: Float64Array): number {
  let twice = 0;
  for (let i = 0, j = o.length - 2; i < o.length; j = i, i += 2) twice += o[j] * o[i + 1] - o[i] * o[j + 1];
  return twice / 2;
}

/** Area of a rounded rectangle whose arcs are chords of a quarter turn in eight steps. */
const exact = (w: number, h: number, r: number): number =>
  w * h - 4 * r * r + 16 * r * r * Math.sin(Math.PI / 16);

describe('rounded rectangle', () => {
  it('has the area of its formula, counter-clockwise', () => {
    expect(areaOf(roundedRectangle(shape))).toBeCloseTo(exact(6, 4, 0.8), 10);
  });

  it('grows as a parallel curve: sides and corner radius by the same offset', () => {
    expect(areaOf(roundedRectangle(shape, 0.2))).toBeCloseTo(exact(6.4, 4.4, 1), 10);
  });

  it('turns counter-clockwise about its middle', () => {
    expect(fromPegAxes({ ...shape, spinDeg: 90 }, 3, 0)[0]).toBeCloseTo(2, 12);
    expect(fromPegAxes({ ...shape, spinDeg: 90 }, 3, 0)[1]).toBeCloseTo(2, 12);
    expect(areaOf(roundedRectangle({ ...shape, spinDeg: 33 }))).toBeCloseTo(exact(6, 4, 0.8), 10);
  });

  it('takes no more corner than half its smaller side, and none when there is none', () => {
    expect(areaOf(roundedRectangle({ ...shape, edgeRadiusMm: 9 }))).toBeCloseTo(exact(6, 4, 2), 10);
    const sharp = roundedRectangle({ ...shape, edgeRadiusMm: 0 });
    expect(sharp.length).toBe(8);
    expect(areaOf(sharp)).toBeCloseTo(24, 12);
  });
});

describe('a peg in the frame of its face', () => {
  const frame = { origin: [10, 0, 5], u: [0, 1, 0], v: [0, 0, 1], n: [1, 0, 0] } as const;
  const peg = {
    kind: 'taper',
    at: [10, 3, 7],
    widthMm: 6,
    heightMm: 4,
    lengthMm: 5,
    draftDeg: 60,
    edgeRadiusMm: 0.8,
    spinDeg: 0,
    sideGapMm: 0.1,
    endGapMm: 0.4,
  } as const;

  it('stands where its foot is, its socket offset by the gap seen along the face', () => {
    const found = pegShape(peg, frame);
    expect(found.uv).toEqual([3, 2]);
    expect(found.socketOffsetMm).toBeCloseTo(0.2, 12);
  });

  it('tells a changed size from the same one', () => {
    expect(isSameShape(shape, { ...shape, uv: [2 + 1e-7, -1] })).toBe(true);
    expect(isSameShape(shape, { ...shape, heightMm: 4.1 })).toBe(false);
  });
});
