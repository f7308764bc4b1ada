import { beforeAll, describe, expect, it } from 'vitest';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { joinMeshes } from '../../src/mend/bodies.ts';
import { moved } from '../support/simple-solids.ts';
import { readSoup, type Soup, writeSoup } from '../support/stl-bytes.ts';
import { block } from './jobs/figures.ts';
import { type FuzzJob, jobFrom } from './jobs/generate.ts';
import type { FaultKind } from './jobs/judge/fault.ts';
import { type Made, makeJob, outcomeOf } from './jobs/run-job.ts';
import type { NestPlan, OtherSeamPlan, SweepPlan } from './jobs/scenarios.ts';

/** The judge of nested bodies and of swept lines sees what is wrong with them: files of right jobs, each spoilt in one way. */

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const process = { sideGapMm: 0.12, endGapMm: 0.4, minWallMm: 0.8 };

/** A job with one seam, what `make` made of it, and the kinds of fault that are found where a file is changed. */
async function trial(
  figure: ReturnType<typeof block>,
  by: NestPlan | SweepPlan,
  pegs: OtherSeamPlan['pegs'],
) {
  const seam: OtherSeamPlan = { id: 'seam', of: 'sculpt', by, pegOn: 'back', pegs };
  const fuzzed: FuzzJob = jobFrom('planted', { figure, seams: [seam], ...process });
  const made: Made = await makeJob(fuzzed);
  const faultsOf = (side: 'front' | 'back', to: (x: number, y: number, z: number) => number): FaultKind[] => {
    const files = new Map(made.files);
    const file = `figure-seam-${side}.stl`;
    const soup: Soup = readSoup(files.get(file) ?? new Uint8Array());
    const spoilt = soup.map((v, i) => (i % 3 === 2 ? to(soup[i - 2], soup[i - 1], v) : v));
    files.set(file, writeSoup(spoilt));
    return [...new Set(outcomeOf(kernel, fuzzed, { ...made, files }).faults.map(({ kind }) => kind))];
  };
  return { outcome: outcomeOf(kernel, fuzzed, made), faultsOf };
}

describe('of a block sunk 5 mm into another with a gap of 0.2 mm the judge', () => {
  const FLOOR = 5 - 0.2;
  const figure = joinMeshes([block([12, 11, 10], 3), moved(block([6, 5, 8], 3), [0, 0, 13])]);
  const by: NestPlan = { kind: 'contact', bodies: ['2', '1'], gives: '1', nestGapMm: 0.2 };
  let of: Awaited<ReturnType<typeof trial>>;
  beforeAll(async () => {
    of = await trial(figure, by, []);
  });
  const floorBy = (mm: number) => (x: number, y: number, z: number) =>
    Math.abs(x) < 6.5 && Math.abs(y) < 5.5 && Math.abs(z - FLOOR) < 0.01 ? z + mm : z;

  it('finds nothing where nothing is wrong', () => {
    expect(of.outcome).toMatchObject({ ending: 'right', faults: [] });
  });

  it('sees a gap that is 0.03 mm less or more in one place', () => {
    expect(of.faultsOf('back', floorBy(0.03))).toContain('nest-gap');
    expect(of.faultsOf('back', floorBy(-0.03))).toContain('nest-gap');
  });

  it('sees bodies that still take the same space', () => {
    expect(of.faultsOf('back', floorBy(0.5))).toEqual(expect.arrayContaining(['nest-gap', 'overlap']));
  });

  it('sees a pocket that takes more than the gap', () => {
    expect(of.faultsOf('back', floorBy(-1))).toEqual(
      expect.arrayContaining(['nest-gap', 'volume', 'differs']),
    );
  });

  it('sees a body that was to stay whole and did not', () => {
    expect(of.faultsOf('front', (_x, _y, z) => (z > 20.9 ? z - 0.01 : z))).toContain('differs');
  });
});

describe('of a block divided by a bent line the judge', () => {
  const by: SweepPlan = {
    kind: 'sheet',
    line: [
      [-16, 0, -1],
      [0, 0, 3],
      [16, 0, -2],
    ],
    along: [0, 1, 0],
    runs: 'straight',
  };
  let of: Awaited<ReturnType<typeof trial>>;
  beforeAll(async () => {
    of = await trial(block([22, 12, 16], 2), by, [{ at: 'auto' }]);
  });

  it('finds nothing where nothing is wrong, with a peg in it', () => {
    expect(of.outcome).toMatchObject({ ending: 'right', faults: [] });
    expect(of.outcome.report?.seams.map(({ pegs }) => pegs.length)).toEqual([1]);
  });

  it('sees a bend that is 0.05 mm too high on one side', () => {
    const lifted = (x: number, _y: number, z: number) =>
      Math.abs(x) < 0.01 && Math.abs(z - 3) < 0.01 ? z + 0.05 : z;
    // The front is below: left of the line, seen against the sweep.
    expect(of.faultsOf('front', lifted)).toEqual(expect.arrayContaining(['differs', 'overlap', 'volume']));
    expect(of.faultsOf('back', lifted)).toEqual(expect.arrayContaining(['differs', 'volume']));
  });

  it('sees a peg that is longer than its socket leaves room for', () => {
    // It points down from the second run.
    const isTip = (x: number, z: number) => x > 1 && z < 3 - (x * 5) / 16 - 3 && z > -15;
    expect(of.faultsOf('back', (x, _y, z) => (isTip(x, z) ? z - 0.05 : z))).toContain('gap-end');
  });
});
