import { describe, expect, it } from 'vitest';
import { faceShape, standHandle } from '../../../app/bench/handle-pose.ts';
import { pulled } from '../../../app/bench/scene-space.ts';
import { type FaceResult, planeFrame } from '../../../src/index.ts';

const plane = { normal: [0.6, 0, 0.8] as const, offsetMm: 20 };
const face: FaceResult = {
  frame: planeFrame({ normal: plane.normal, offset: plane.offsetMm }),
  outlines: [new Float64Array([-4, -2, 8, -2, 8, 6, -4, 6])],
  uncut: [],
  areaMm2: 96,
  perimeterMm: 40,
};
const heightOver = (p: readonly number[]) => 0.6 * p[0] + 0.8 * p[2] - plane.offsetMm;

describe('the handle of a seam', () => {
  it('stands in the middle of the face', () => {
    expect(faceShape(face)).toMatchObject({ halfU: 6, halfV: 4 });
    expect(faceShape({ ...face, outlines: [] })).toBeNull();
  });

  it('has its grips on the plane and outside the face', () => {
    const shape = faceShape(face);
    if (shape === null) throw new Error('the face has a shape');
    const { grips, levers } = standHandle(plane, shape);
    for (const grip of Object.values(grips)) expect(heightOver(grip)).toBeCloseTo(0, 9);
    expect(levers.across).toBeGreaterThan(6);
    expect(levers.along).toBeGreaterThan(4);
  });

  it('follows the plane along its normal', () => {
    const shape = faceShape(face);
    if (shape === null) throw new Error('the face has a shape');
    const moved = standHandle({ ...plane, offsetMm: 25 }, shape);
    expect(heightOver(moved.centre)).toBeCloseTo(5, 9);
  });
});

describe('parts pulled apart', () => {
  const figure = { centre: [0, 0, 0] as const, radius: 50 };
  it('leave the part that stands on the bed where it is', () => {
    expect(pulled([0, 0, -1], [0, 0, -1], 1, figure)).toEqual([0, 0, 0]);
    expect(pulled([0, 0, 1], [0, 0, -1], 1, figure)[2]).toBeGreaterThan(0);
  });

  it('are seated at zero', () => {
    expect(pulled([0, 0, 1], [0, 0, -1], 0, figure).map((c) => c + 0)).toEqual([0, 0, 0]);
  });
});
