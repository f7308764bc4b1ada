import { describe, expect, it } from 'vitest';
import { bedBox } from '../../../app/bench/bed-box.ts';
import { bedCorners, withPlaces } from '../../../app/bench/scene-space.ts';
import { type BenchState, initialState } from '../../../app/state/bench-state.ts';
import { partInBed } from '../../../app/state/build-volume.ts';
import { type BedFit, demoJob, length, NO_TURN, type PartView, sub, turnAbout } from '../../../src/index.ts';

const BED = [140, 85, 170] as const;
const fits: BedFit = {
  fits: 'standing',
  turn: NO_TURN,
  up: 'z',
  overMm: 0,
  axis: 'x',
  withinMm: 0,
  middleMm: [10, 20, 30],
};
const part = (id: string, bed: Partial<BedFit>): PartView =>
  ({
    id,
    name: id,
    bed: { ...fits, ...bed },
    away: [0, 0, 0],
    boundsMm: { min: [0, 0, 0], max: [9, 9, 9] },
  }) as never;

/** A bench with a part of each kind, and more of what a person did. */
function bench(sitting: Partial<BenchState['sitting']>): BenchState {
  const state = initialState(demoJob, 'system');
  const parts = [
    part('small', {}),
    part('leaning', { fits: 'turned' }),
    part('big', { fits: 'not', overMm: 3 }),
    part('bigger', { fits: 'not', overMm: 30 }),
  ];
  const summary = { originMm: [0, 0, 0], boundsMm: { min: [0, 0, 0], max: [9, 9, 9] } };
  return {
    ...state,
    sitting: { ...state.sitting, ...sitting },
    derived: { ...state.derived, summary, view: { parts } as never, viewJob: demoJob } as never,
  };
}

const idOf = (sitting: Partial<BenchState['sitting']>) => partInBed(bench(sitting))?.id ?? null;

describe('the part that the build volume is shown around', () => {
  it('is none while it is not shown, and none where none is seen', () => {
    expect(idOf({})).toBeNull();
    expect(idOf({ bedOf: 'small' })).toBeNull();
    expect(idOf({ bedShown: true, hidden: ['small', 'leaning', 'big', 'bigger'] })).toBeNull();
  });

  it('is the one asked for while it is seen, else of those seen the one that fits least', () => {
    expect(idOf({ bedShown: true, bedOf: 'small' })).toBe('small');
    expect(idOf({ bedShown: true })).toBe('bigger');
    expect(idOf({ bedShown: true, bedOf: 'bigger', hidden: ['bigger'] })).toBe('big');
    expect(idOf({ bedShown: true, hidden: ['bigger', 'big'] })).toBe('leaning');
    expect(idOf({ bedShown: true, bedOf: 'big', alone: ['small'] })).toBe('small');
  });
});

describe('the build volume on the bench', () => {
  it('has the size of the bed along its edges, whatever its turn, about its middle', () => {
    for (const turn of [NO_TURN, turnAbout([0.6, 0, 0.8], 71)]) {
      const corners = bedCorners({ ...fits, turn }, BED);
      expect(corners).toHaveLength(8);
      for (const floor of [0, 4]) {
        expect(length(sub(corners[floor], corners[floor + 1]))).toBeCloseTo(140, 9);
        expect(length(sub(corners[floor + 1], corners[floor + 2]))).toBeCloseTo(85, 9);
      }
      for (let k = 0; k < 4; k++) expect(length(sub(corners[k], corners[k + 4]))).toBeCloseTo(170, 9);
      for (const axis of [0, 1, 2]) {
        expect(corners.reduce((sum, corner) => sum + corner[axis] / 8, 0)).toBeCloseTo(
          fits.middleMm[axis],
          9,
        );
      }
    }
    // As the part stands the floor is below.
    expect(
      bedCorners(fits, BED)
        .slice(0, 4)
        .every((corner) => corner[2] === 30 - 85),
    ).toBe(true);
  });

  it('is there with its part alone, and widens what is fitted in view', () => {
    expect(bedBox(bench({}))).toBeNull();
    const box = bedBox(bench({ bedShown: true, bedOf: 'small' }))!;
    const { min, max } = withPlaces({ min: [0, 0, 0], max: [9, 9, 500] }, box);
    const [x, y] = demoJob.process.bedMm;
    expect(min).toEqual([10 - x / 2, 20 - y / 2, 30 - demoJob.process.bedMm[2] / 2]);
    expect(max).toEqual([10 + x / 2, 20 + y / 2, 500]);
  });
});
