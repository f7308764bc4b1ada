import { beforeAll, describe, expect, it } from 'vitest';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { pick, readSoup, type Soup, writeSoup } from '../support/stl-bytes.ts';
import { block } from './jobs/figures.ts';
import { type FuzzJob, jobFrom } from './jobs/generate.ts';
import type { FaultKind } from './jobs/judge/fault.ts';
import { type Made, makeJob, outcomeOf } from './jobs/run-job.ts';
import type { SeamPlan } from './jobs/scenarios.ts';

/** The judge of made jobs has to see what is wrong: files and reports of a right job, each spoilt in one way. */

const SEAM = 2;
const waist: SeamPlan = {
  id: 'waist',
  of: 'sculpt',
  normal: [0, 0, 1],
  offsetMm: SEAM,
  pegOn: 'back',
  pegs: [
    { at: [1, 2, SEAM], widthMm: 6, heightMm: 5, lengthMm: 5, draftDeg: 3, edgeRadiusMm: 0.4, spinDeg: 10 },
  ],
};
const fuzzed: FuzzJob = jobFrom('planted', {
  figure: block([12, 11, 15], 2),
  seams: [waist],
  sideGapMm: 0.12,
  endGapMm: 0.4,
  minWallMm: 1.2,
});
const TOP = 'figure-waist-front.stl';
const FOOT = 'figure-waist-back.stl';

let kernel: Kernel;
let made: Made;
beforeAll(async () => {
  kernel = await loadKernel();
  made = await makeJob(fuzzed);
});

/** The kinds of fault that are found where a file or the report is changed. */
function faultsOf(
  file: string | null,
  spoil: (soup: Soup) => Soup,
  report = (text: string) => text,
): FaultKind[] {
  const files = new Map(made.files);
  if (file) files.set(file, writeSoup(spoil(readSoup(files.get(file) ?? new Uint8Array()))));
  const { faults } = outcomeOf(kernel, fuzzed, { ...made, files, stdout: report(made.stdout) });
  return [...new Set(faults.map(({ kind }) => kind))].sort();
}

/** Every corner where `moves` says so moved by a vector. */
const moved =
  (by: readonly [number, number, number], moves: (x: number, y: number, z: number) => boolean) =>
  (soup: Soup): Soup => {
    const out = Float32Array.from(soup);
    for (let i = 0; i < soup.length; i += 3)
      if (moves(soup[i], soup[i + 1], soup[i + 2])) for (let k = 0; k < 3; k++) out[i + k] += by[k];
    return out;
  };

const isPeg = (_x: number, _y: number, z: number) => z > SEAM + 0.01;
const isPegTip = (_x: number, _y: number, z: number) => z > SEAM + 4.5;
const isLid = (_x: number, _y: number, z: number) => z > 14.9;

describe('the judge of made jobs', () => {
  it('finds nothing where nothing is wrong', () => {
    expect([...made.files.keys()].sort()).toEqual([FOOT, TOP, 'report.json'].sort());
    expect(outcomeOf(kernel, fuzzed, made)).toMatchObject({ ending: 'right', faults: [] });
  });

  it('sees a triangle that is missing', () => {
    expect(faultsOf(TOP, (soup) => pick(soup, (t) => t !== 7))).toContain('open');
  });

  it('sees a peg that stands 0.03 mm off', () => {
    expect(faultsOf(FOOT, moved([0.03, 0, 0], isPeg))).toContain('gap-side');
  });

  it('sees a peg whose tip is 0.03 mm too high', () => {
    expect(faultsOf(FOOT, moved([0, 0, 0.03], isPegTip))).toContain('gap-end');
  });

  it('sees a peg that reaches into the other part', () => {
    expect(faultsOf(FOOT, moved([0.4, 0, 0], isPeg))).toEqual(
      expect.arrayContaining(['gap-side', 'overlap']),
    );
  });

  it('sees a peg that is not there', () => {
    const sunk = (soup: Soup) => soup.map((v, i) => (i % 3 === 2 && v > SEAM ? SEAM : v));
    expect(faultsOf(FOOT, sunk)).toContain('peg-missing');
  });

  it('sees a part that is a little larger than its piece of the figure', () => {
    const found = faultsOf(TOP, moved([0, 0, 0.01], isLid));
    expect(found).toEqual(expect.arrayContaining(['differs', 'report', 'volume']));
  });

  it('sees a wall that is thinner than reported, and than asked', () => {
    const found = faultsOf(TOP, moved([0, 0, -7], isLid));
    expect(found).toEqual(expect.arrayContaining(['wall-reported', 'wall-thin']));
  });

  it('sees a report that says more pieces, or another volume', () => {
    expect(
      faultsOf(
        null,
        (soup) => soup,
        (text) => text.replace(/"shells": 1/, '"shells": 2'),
      ),
    ).toEqual(['pieces']);
    expect(
      faultsOf(
        null,
        (soup) => soup,
        (text) => text.replace(/"volumeMm3": /, '"volumeMm3": 1'),
      ),
    ).toEqual(['report']);
  });

  it('sees a skin that comes to lie in the end of the socket, to the last bit', () => {
    const found = faultsOf(TOP, moved([0, 0, SEAM + 5.4 - 15], isLid));
    expect(found).toEqual(expect.arrayContaining(['wall-reported', 'wall-thin']));
  });
});
