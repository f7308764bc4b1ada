import { beforeAll, describe, expect, it } from 'vitest';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { fuzzJob, LATER_FROM } from './jobs/generate.ts';
import { PINNED } from './jobs/pinned.ts';
import { type Outcome, runJob } from './jobs/run-job.ts';
import { isSoundSolidJoint } from './jobs/tally.ts';

/**
 * A slice of the jobs that `npm run fuzz` makes, each judged from its files by code that shares nothing with the
 * engine: it is right, or it is told what is wrong, or refused.
 */

const SLICE = 18;
/** Of nested bodies and swept lines. */
const LATER_SLICE = 4;

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

/** A job that failed reads as what the judge saw. */
const wrongIn = ({ ending, details }: Outcome): string[] => (ending === 'failed' ? details : []);

const slice = Array.from({ length: SLICE }, (_, i) => i + 1);
const outcomes: Outcome[] = [];

describe('a job made at random is right, told or refused', () => {
  it.each(slice)('seed %i', async (seed) => {
    const outcome = await runJob(kernel, fuzzJob(kernel, seed));
    outcomes.push(outcome);
    expect(wrongIn(outcome)).toEqual([]);
  });

  it.each(Array.from({ length: LATER_SLICE }, (_, i) => LATER_FROM + i))('seed %i', async (seed) => {
    expect(wrongIn(await runJob(kernel, fuzzJob(kernel, seed)))).toEqual([]);
  });

  it.each([100_023, 100_025, 100_042])(
    'seed %i: bodies that slide apart are not told to be in each other’s way',
    async (seed) => {
      expect(await runJob(kernel, fuzzJob(kernel, seed))).toMatchObject({ ending: 'right', details: [] });
    },
  );

  it('of these some are right with joints that only the solid kernel can make, and some are told', () => {
    expect(outcomes).toHaveLength(SLICE);
    expect(outcomes.filter(isSoundSolidJoint).length).toBeGreaterThan(SLICE / 8);
    expect(outcomes.filter(({ ending }) => ending === 'told').length).toBeGreaterThan(SLICE / 8);
  });

  it.each(PINNED)('seed %i: %s', async (seed) => {
    expect(wrongIn(await runJob(kernel, fuzzJob(kernel, seed)))).toEqual([]);
  });
});
