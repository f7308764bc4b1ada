import { describe, expect, it } from 'vitest';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { insideOut } from '../support/figures.ts';
import { inEnglish } from '../support/in-english.ts';
import { jobOf, type PegInput, pegWith, type SeamInput } from '../support/job.ts';
import { box, fanned, legged, together, torus } from '../support/simple-solids.ts';
import { codesOf, evaluated, foundIn } from '../support/told-codes.ts';

const made = (figure: Mesh, seams: readonly SeamInput[], process = {}) =>
  evaluated(figure, jobOf(seams, process));
const auto = (sizes: Partial<PegInput> = {}): PegInput => ({ kind: 'taper', at: 'auto', ...sizes });

const block = fanned(box([-20, -20, -20], [20, 20, 20]));
/** A bar of 60 × 12 × 10 mm on two legs of 10 × 12 and 14 × 12 mm. */
const table = legged();

describe('a seam that meets no face', () => {
  const apart = together(fanned(box([-9, -9, -20], [9, 9, -2])), fanned(box([-9, -9, 2], [9, 9, 20])));
  const touching = together(fanned(box([-9, -9, -20], [9, 9, 0])), fanned(box([-9, -9, 0], [9, 9, 20])));

  it('is told with the pegs that could not be placed, however they were asked for', async () => {
    for (const figure of [apart, touching]) {
      for (const pegs of [[auto()], [pegWith()], [pegWith(), auto()]]) {
        const done = await made(figure, [{ pegs }]);
        expect(done.evaluation.seams[0].joints).toEqual([]);
        expect(foundIn(done, 'seam-without-face')).toEqual([
          { code: 'seam-without-face', severity: 'error', facts: { pegs: pegs.length }, seamId: 'neck' },
        ]);
      }
      const bare = await made(figure, [{ pegs: [] }]);
      expect(foundIn(bare, 'seam-without-face')[0].severity).toBe('warning');
      expect(codesOf(bare)).not.toContain('seam-without-peg');
    }
    expect(codesOf(await made(apart, [{ offsetMm: 3, pegs: [auto()] }]))).not.toContain('seam-without-face');
  });
});

describe('a seam that makes several faces', () => {
  it('gets a peg on each where pegs are left to the engine, the last repeated', async () => {
    for (const count of [1, 2]) {
      const done = await made(table, [{ offsetMm: -8, pegs: Array.from({ length: count }, () => auto()) }]);
      const feet = done.evaluation.seams[0].joints.map(({ settled }) => Math.sign(settled.at[0]));
      expect(feet.sort()).toEqual([-1, 1]);
      expect(done.evaluation.seams[0].joints.map(({ index }) => index)).toEqual([0, 1]);
      expect(codesOf(done)).not.toContain('face-without-peg');
    }
    // The third goes where a peg has most area to itself.
    const three = await made(table, [{ offsetMm: -8, pegs: [auto(), auto(), auto()] }]);
    expect(three.evaluation.seams[0].joints.map(({ settled }) => Math.sign(settled.at[0])).sort()).toEqual([
      -1, 1, 1,
    ]);
  });

  it('is told where a face is left without one that could carry one', async () => {
    const placed = pegWith({ at: [-25, 0, -8], widthMm: 4, heightMm: 4, lengthMm: 4 });
    const done = await made(table, [{ offsetMm: -8, pegs: [placed] }]);
    const [told] = foundIn(done, 'face-without-peg');
    expect(told).toMatchObject({
      severity: 'warning',
      seamId: 'neck',
      facts: { faces: 2, bare: 1, fits: true },
    });
    expect(told.facts.areaMm2).toBeCloseTo(14 * 12, 6);
    expect(Math.abs((told.at?.[0] ?? 0) - 23)).toBeLessThan(0.5);
    const both = await made(table, [{ offsetMm: -8, pegs: [placed, auto()] }]);
    expect(codesOf(both)).not.toContain('face-without-peg');
    expect(both.evaluation.seams[0].joints).toHaveLength(2);
  });

  it('does not fail for a face too small for any peg', async () => {
    const twig = together(block, fanned(box([30, -0.5, -20], [31, 0.5, 20])));
    const done = await made(twig, [{ pegs: [auto(), auto()] }]);
    expect(done.evaluation.seams[0].joints).toHaveLength(2);
    expect(codesOf(done)).not.toContain('no-peg-fits');
    expect(foundIn(done, 'face-without-peg')[0]).toMatchObject({ severity: 'info', facts: { fits: false } });
  });

  it('is told where it leaves one side in pieces, and where those are', async () => {
    const done = await made(table, [{ offsetMm: -8, pegs: [auto()] }]);
    const [told] = foundIn(done, 'part-in-pieces');
    expect(told.facts).toEqual({ part: 'neck back', pieces: 2 });
    expect(Math.abs(told.at?.[0] ?? 0)).toBeGreaterThan(15);
    const ring = await made(torus(20, 5, 48, 24), [{ normal: [1, 0, 0], pegs: [] }]);
    // Through the axis of a ring each side is one bow.
    expect(codesOf(ring)).not.toContain('part-in-pieces');
    expect(codesOf(await made(torus(20, 5, 48, 24), [{ normal: [1, 0, 0], offsetMm: 10 }]))).not.toContain(
      'part-in-pieces',
    );
  });

  it('tells of no pieces where bodies were apart before, nor of a hollow', async () => {
    const two = together(fanned(box([-20, -9, -9], [-4, 9, 9])), fanned(box([4, -9, -9], [20, 9, 9])));
    expect(codesOf(await made(two, [{ pegs: [auto()] }]))).not.toContain('part-in-pieces');
    const hollow = together(block, insideOut(fanned(box([-15, -15, -15], [15, 15, 15]))));
    expect(codesOf(await made(hollow, [{ pegs: [] }]))).not.toContain('part-in-pieces');
  });
});

describe('why no peg fits', () => {
  const reasonOf = async (figure: Mesh, peg: PegInput, process = {}) => {
    const [told] = foundIn(await made(figure, [{ pegs: [peg] }], process), 'no-peg-fits');
    return { facts: told.facts, sentence: inEnglish.finding(told) };
  };
  const plate = (thick: number) => fanned(box([-20, -20, -10], [20, 20, thick]));

  it('is the room on the face, for what can be printed or for the length that was asked for', async () => {
    const narrow = await reasonOf(fanned(box([-2, -20, -20], [2, 20, 20])), auto());
    expect(narrow.facts).toMatchObject({ reason: 'room' });
    const long = await reasonOf(block, auto({ lengthMm: 90 }));
    // 1.2 mm at the tip and 90 mm of 6° on either side.
    const needed = 1.2 + 2 * 90 * Math.tan(Math.PI / 30);
    expect(long.facts).toMatchObject({ reason: 'room', lengthMm: 90 });
    const { neededWidthMm } = long.facts as { neededWidthMm: number };
    expect(neededWidthMm).toBeGreaterThanOrEqual(needed);
    expect(neededWidthMm).toBeLessThan(needed * 1.04);
  });

  it('is the size that was asked for', async () => {
    const { facts } = await reasonOf(block, auto({ widthMm: 60 }));
    expect(facts).toMatchObject({ reason: 'asked', askedMm: 60 });
    expect((facts as { bestWidthMm: number }).bestWidthMm).toBeLessThan(40);
  });

  it('is a tip that the draft makes too thin', async () => {
    const { facts } = await reasonOf(block, auto({ widthMm: 4, lengthMm: 14 }));
    // At most (4 − 1.2) / (2 tan 6°).
    expect(facts).toMatchObject({ reason: 'tip' });
    expect((facts as { longestMm: number }).longestMm).toBeCloseTo(2.8 / (2 * Math.tan(Math.PI / 30)), 9);
  });

  it('is the depth behind the face', async () => {
    const { facts, sentence } = await reasonOf(plate(2), auto());
    expect(facts).toMatchObject({ reason: 'depth', minWallMm: 1.2 });
    const { bestWallMm } = facts as { bestWallMm: number };
    expect(bestWallMm).toBeGreaterThan(0);
    expect(bestWallMm).toBeLessThan(1.2);
    expect(sentence).not.toMatch(/room for/);
  });

  it('is never told in absurd numbers, and a wall of nothing asks for none', async () => {
    for (const peg of [
      auto({ widthMm: 3, heightMm: 3, lengthMm: 40 }),
      auto({ widthMm: 1, edgeRadiusMm: 3 }),
    ]) {
      const { evaluation } = await made(block, [{ pegs: [peg] }]);
      for (const one of evaluation.findings)
        expect(inEnglish.finding(one)).not.toMatch(/\d{4}|NaN|undefined/);
      expect(evaluation.seams[0].joints).toEqual([]);
    }
    const bare = await made(block, [{ pegs: [auto()] }], { minWallMm: 0 });
    expect(bare.evaluation.seams[0].joints).toHaveLength(1);
  });
});

describe('the clearance that is asked for', () => {
  const told = async (sizes: Partial<PegInput>, process = {}) =>
    codesOf(await made(block, [{ pegs: [pegWith(sizes)] }], process)).filter((code) =>
      code.startsWith('clearance'),
    );

  it('is an error where nothing can go in, a caution where no process holds or needs it', async () => {
    expect(await told({})).toEqual([]);
    expect(await told({ sideGapMm: 0 })).toEqual(['clearance-missing']);
    expect(await told({ endGapMm: 0 })).toEqual(['clearance-missing']);
    expect(await told({}, { sideGapMm: 0, endGapMm: 0.001 })).toEqual([
      'clearance-missing',
      'clearance-missing',
    ]);
    expect(await told({ sideGapMm: 0.03 })).toEqual(['clearance-small']);
    expect(await told({ sideGapMm: 0.05, endGapMm: 0.05 })).toEqual([]);
    expect(await told({ sideGapMm: 1, endGapMm: 3 })).toEqual(['clearance-large', 'clearance-large']);
    const { evaluation } = await made(block, [{ pegs: [pegWith({ sideGapMm: 0 })] }]);
    expect(evaluation.findings.find(({ code }) => code === 'clearance-missing')?.severity).toBe('error');
  });
});

describe('a peg without a width', () => {
  it('leaves its neighbours their room when it stands beside them', async () => {
    const width = async (x: number, neighbour: Partial<PegInput>) => {
      const pegs: PegInput[] = [
        { kind: 'taper', at: [x, 0, 0] },
        { kind: 'taper', at: [6, 0, 0], ...neighbour },
      ];
      const done = await made(block, [{ pegs }]);
      expect(codesOf(done)).not.toContain('pegs-too-close');
      expect(codesOf(done)).not.toContain('wall-thin');
      return done.evaluation.seams[0].joints[0].settled.widthMm;
    };
    const alone = await width(-6, { widthMm: 2 });
    const beside = await width(0, { widthMm: 2 });
    expect(beside).toBeLessThan(alone);
    expect(await width(0, {})).toBeLessThan(alone);
  });
});
