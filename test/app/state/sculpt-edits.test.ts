import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addMend, removeMend, setScale, setUnit, turnFigure } from '../../../app/state/sculpt-edits.ts';
import {
  compose,
  dot,
  heldPlane,
  type Job,
  length,
  type Mend,
  NO_TURN,
  planeSeam,
  type Quaternion,
  readJob,
  sub,
  throughOf,
  turnAbout,
  turnBetween,
  turnedVec,
  type Vec3,
  withThrough,
} from '../../../src/index.ts';
import { jobOf } from '../../support/job.ts';
import { planeOf } from '../../support/plane-of.ts';

const SEED = { seed: 20_261_125, numRuns: 300 };

const far = fc.double({ min: -200, max: 200, noNaN: true });
const place: fc.Arbitrary<Vec3> = fc.tuple(far, far, far);
const unit: fc.Arbitrary<Vec3> = place
  .filter((v) => length(v) > 1)
  .map((v) => [v[0] / length(v), v[1] / length(v), v[2] / length(v)]);
const turn: fc.Arbitrary<Quaternion> = fc
  .tuple(unit, fc.double({ min: -360, max: 360, noNaN: true }))
  .map(([axis, deg]) => turnAbout(axis, deg));

/** A job whose seam goes through `p`, with a peg there. */
const jobAt = (normal: Vec3, p: Vec3): Job => {
  const job = jobOf([{ offsetMm: 0, pegs: [{ kind: 'taper', at: p, widthMm: 5 }] }]);
  return {
    ...job,
    seams: [{ ...job.seams[0], by: withThrough(planeSeam(normal, dot(normal, p)), [p]) }],
  };
};
/** How far a place of the figure lies off the job's seam, mm. */
const off = ({ seams: [seam] }: Job, p: Vec3) => dot(planeOf(seam).normal, p) - planeOf(seam).offsetMm;
const pegAt = ({ seams }: Job) => seams[0].joints[0].at as Vec3;

describe('turning a figure', () => {
  it('turns its seams and pegs with it: what lay on a seam lies on it, what lay off it as far off', () => {
    fc.assert(
      fc.property(unit, place, place, turn, (normal, p, other, by) => {
        const before = jobAt(normal, p);
        const after = turnFigure(before, by);
        expect(length(sub(pegAt(after), turnedVec(p, by)))).toBeLessThan(1e-8);
        expect(throughOf(after.seams[0].by)).toEqual([pegAt(after)]);
        expect(off(after, turnedVec(other, by)) - off(before, other)).toBeCloseTo(0, 7);
        expect(after.seams[0].joints[0].widthMm).toBe(5);
      }),
      SEED,
    );
  });

  it('adds to the turn there was, as if each had been made after the other', () => {
    fc.assert(
      fc.property(turn, turn, place, (one, two, p) => {
        const job = turnFigure(turnFigure(jobAt([0, 0, 1], [0, 0, 0]), one), two);
        const at = turnedVec(p, job.sculpt.turn ?? NO_TURN);
        expect(length(sub(at, turnedVec(turnedVec(p, one), two)))).toBeLessThan(1e-7);
        expect(() => readJob('job.json', JSON.parse(JSON.stringify(job)))).not.toThrow();
      }),
      SEED,
    );
  });

  it('leaves no trace when four quarter turns come round', () => {
    for (const axis of [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const) {
      const before = jobAt([0.6, 0, 0.8], [1, 2, 3]);
      let job = before;
      for (let quarter = 0; quarter < 4; quarter++) job = turnFigure(job, turnAbout(axis, 90));
      expect(job).toEqual(before);
    }
  });

  it('keeps seams that were square to an axis square to one, to the bit', () => {
    const job = turnFigure(jobAt([0, 0, 1], [0, 0, 4]), turnAbout([1, 0, 0], 90));
    expect(heldPlane(job.seams[0].by)).toEqual({ normal: [0, -1, 0], offsetMm: 4 });
  });

  it('brings any direction up, the opposite one too', () => {
    fc.assert(
      fc.property(unit, (from) => {
        for (const side of [from, [0, 0, -1], [0, 0, 1]] as Vec3[]) {
          expect(length(sub(turnedVec(side, turnBetween(side, [0, 0, 1])), [0, 0, 1]))).toBeLessThan(1e-9);
        }
      }),
      SEED,
    );
  });

  it('composes to turns of length 1 with w not negative', () => {
    fc.assert(
      fc.property(turn, turn, (a, b) => {
        const both = compose(a, b);
        expect(Math.hypot(...both)).toBeCloseTo(1, 12);
        expect(both[3]).toBeGreaterThanOrEqual(0);
      }),
      SEED,
    );
  });
});

describe('sizing a figure', () => {
  it('takes its seams and pegs along and leaves their sizes, there and back', () => {
    fc.assert(
      fc.property(
        unit,
        place,
        place,
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        (normal, p, other, times) => {
          const before = jobAt(normal, p);
          const after = setScale(before, times, 'mm');
          const ratio = after.sculpt.scale;
          expect(Math.abs(ratio / times - 1)).toBeLessThan(1e-8);
          const larger = (v: Vec3): Vec3 => [v[0] * ratio, v[1] * ratio, v[2] * ratio];
          expect(length(sub(pegAt(after), larger(p)))).toBeLessThan(1e-6);
          expect(off(after, larger(other)) - ratio * off(before, other)).toBeCloseTo(0, 6);
          expect(after.seams[0].joints[0].widthMm).toBe(5);
          const back = setScale(after, 1, 'mm');
          expect(back.sculpt).toEqual(before.sculpt);
          expect(length(sub(pegAt(back), p))).toBeLessThan(1e-9);
        },
      ),
      SEED,
    );
  });

  it('by another unit is sizing too, also where the job leaves the unit to the file', () => {
    const job = jobAt([0, 0, 1], [1, 2, 50]);
    expect(planeOf(setUnit(job, 'inch', 'mm').seams[0]).offsetMm).toBeCloseTo(50 * 25.4, 9);
    const { unit: _, ...sculpt } = job.sculpt;
    const left = { ...job, sculpt };
    expect(planeOf(setUnit(left, 'm', 'cm').seams[0]).offsetMm).toBeCloseTo(50 * 100, 9);
    expect(setUnit(left, 'm', 'cm').sculpt.unit).toBe('m');
  });

  it('takes the reach of agreed mending along, within its limits', () => {
    const mends: Mend[] = [
      { do: 'weld', toleranceMm: 0.5 },
      { do: 'fill-holes', how: 'flat' },
      { do: 'drop-specks', belowMm: 2 },
      { do: 're-skin', cellMm: 0.4 },
    ];
    const job = mends.reduce(addMend, jobAt([0, 0, 1], [0, 0, 0]));
    expect(setScale(job, 2, 'mm').sculpt.mend).toEqual([
      { do: 'weld', toleranceMm: 1 },
      { do: 'fill-holes', how: 'flat' },
      { do: 'drop-specks', belowMm: 4 },
      { do: 're-skin', cellMm: 0.8 },
    ]);
    expect(setScale(job, 1000, 'mm').sculpt.mend?.[0]).toEqual({ do: 'weld', toleranceMm: 10 });
  });
});

describe('agreeing to mending', () => {
  it('adds a step, and takes it back without a trace', () => {
    const job = jobAt([0, 0, 1], [0, 0, 0]);
    const one = addMend(job, { do: 'unite' });
    const two = addMend(one, { do: 'fill-holes', how: 'smooth' });
    expect(two.sculpt.mend).toEqual([{ do: 'unite' }, { do: 'fill-holes', how: 'smooth' }]);
    expect(removeMend(two, 1)).toEqual(one);
    expect(removeMend(one, 0)).toEqual(job);
  });
});
