import { beforeAll, describe, expect, it } from 'vitest';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { dot, type Vec3 } from '../../src/math/vec3.ts';
import { meshOf } from '../../src/mesh/part/part.ts';
import { createEvaluator, type Evaluated, type Evaluator } from '../../src/pipeline/evaluate.ts';
import { inEnglish } from '../support/in-english.ts';
import { jobOf, type PegInput, sculptOf } from '../support/job.ts';
import { isSound } from '../support/seam-fixture.ts';
import { sharedVolume } from '../support/sheet-judge.ts';
import { box, fanned, hooked } from '../support/simple-solids.ts';

/** Seams swept from a line, from the job to what is measured. A block of 40 × 30 × 24 mm about the origin. */

let kernel: Kernel;
let block: Evaluator;
beforeAll(async () => {
  kernel = await loadKernel();
  block = createEvaluator(onlyHere(kernel), await sculptOf(fanned(box([-20, -15, -12], [20, 15, 12]))));
});

/** Seen towards −y, against the sweep: from right to left, so that the front is below. Level, a rise, level. */
const Z: Vec3[] = [
  [-20, 0, -4],
  [-3, 0, -4],
  [3, 0, 4],
  [20, 0, 4],
];
const DOVETAIL: Vec3[] = [
  [-20, 0, 0],
  [-4, 0, 0],
  [-8, 0, 8],
  [8, 0, 8],
  [4, 0, 0],
  [20, 0, 0],
];
const auto: PegInput = { kind: 'taper', at: 'auto' };

const evaluated = (line: Vec3[], pegs: PegInput[] = [], on = block): Promise<Evaluated> =>
  on.evaluate(jobOf([{ line, pegs }]));
const told = ({ evaluation }: Evaluated) =>
  evaluation.findings.map(({ code, severity }) => `${severity} ${code}`);

/** Volumes shared while the front is moved along the draw that is stated, mm³, the most of some steps. */
function mostShared({ evaluation, tree }: Evaluated): number {
  const [front, back] = tree.parts.map(({ part }) => meshOf(part));
  const { axis } = evaluation.seams[0].draw;
  const steps = [0.2, 0.5, 1, 2, 4, 8, 16];
  return Math.max(
    ...steps.map((step) => sharedVolume(kernel, front, back, axis.map((c) => c * step) as unknown as Vec3)),
  );
}

describe('a seam along a Z', () => {
  it('has a facet a run, and comes off between the directions that its runs allow', async () => {
    const one = await evaluated(Z);
    const { facets, draw, areaMm2 } = one.evaluation.seams[0];
    expect(facets.map((face) => face.areaMm2)).toEqual([510, 300, 510].map((mm2) => expect.closeTo(mm2, 6)));
    expect(areaMm2).toBeCloseTo(1320, 6);
    expect(draw.free).toBe(true);
    for (const { frame } of facets) expect(dot(draw.axis, frame.n)).toBeGreaterThan(0);
    expect(told(one)).toEqual(['warning seam-without-peg']);
    expect(mostShared(one)).toBeLessThan(1e-3);
  });

  it('gets pegs that go in together, one on each level run and none on the rise', async () => {
    const one = await evaluated(Z, [auto]);
    const { joints, draw, oneWay } = one.evaluation.seams[0];
    expect(joints.map(({ facet, way }) => [facet, way])).toEqual([
      [0, 'local'],
      [2, 'local'],
    ]);
    expect([draw.axis[2], oneWay]).toEqual([expect.closeTo(-1, 9), true]);
    for (const { sideGapMm, endGapMm } of joints) {
      expect(Math.abs(sideGapMm!.min - 0.12) + Math.abs(sideGapMm!.max - 0.12)).toBeLessThan(0.01);
      expect(Math.abs(endGapMm!.min - 0.4) + Math.abs(endGapMm!.max - 0.4)).toBeLessThan(0.002);
    }
    expect(told(one)).toEqual([]);
    expect(Math.abs(one.evaluation.volume.residualMm3)).toBeLessThan(1e-3);
    expect(one.tree.parts.every(({ part }) => isSound(part))).toBe(true);
    expect(mostShared(one)).toBeLessThan(1e-3);
  });

  it('carries a peg on its rise, which then says which way it comes apart', async () => {
    const one = await evaluated(Z, [{ kind: 'round', at: [0, 0, 0], diameterMm: 5 }]);
    const { joints, draw } = one.evaluation.seams[0];
    expect(joints[0].facet).toBe(1);
    expect(dot(draw.axis, one.evaluation.seams[0].facets[1].frame.n)).toBeCloseTo(1, 6);
    expect(one.tree.parts.every(({ part }) => isSound(part))).toBe(true);
    expect(mostShared(one)).toBeLessThan(1e-3);
  });

  it('is locked by pegs on runs that face different ways, which are named', async () => {
    const one = await evaluated(Z, [
      { kind: 'taper', at: [0, 0, 0], widthMm: 4, heightMm: 4, lengthMm: 4 },
      { kind: 'taper', at: [13, 0, 4], widthMm: 4, heightMm: 4, lengthMm: 4 },
    ]);
    expect(one.evaluation.seams[0].draw).toMatchObject({ free: false, locked: { pegs: [0, 1], facets: [] } });
    const locked = one.evaluation.findings.find(({ code }) => code === 'draw-locked');
    expect(locked?.severity).toBe('error');
    expect(inEnglish.finding(locked!)).toContain('no direction clears pegs 1, 2.');
  });

  it('tells a peg that runs through another of its runs', async () => {
    const one = await evaluated(Z, [
      { kind: 'taper', at: [-5, 0, -4], widthMm: 5, heightMm: 5, lengthMm: 6 },
    ]);
    expect(told(one)).toContain('error joint-crosses-seam');
  });
});

describe('a seam along a dovetail', () => {
  it('comes apart along its sweep alone, which is told', async () => {
    const one = await evaluated(DOVETAIL);
    expect(one.evaluation.seams[0].draw).toEqual({ free: true, axis: [0, 1, 0] });
    expect(told(one)).toContain('info draw-sideways');
    expect(mostShared(one)).toBeLessThan(1e-3);
  });

  it('is locked by a peg square to a run, with the runs that lock it', async () => {
    const one = await evaluated(DOVETAIL, [
      { kind: 'taper', at: [0, 0, 8], widthMm: 5, heightMm: 5, lengthMm: 4 },
    ]);
    expect(one.evaluation.seams[0].draw).toMatchObject({
      free: false,
      locked: { pegs: [0], facets: [1, 3] },
    });
    const locked = one.evaluation.findings.find(({ code }) => code === 'draw-locked');
    expect(inEnglish.finding(locked!)).toContain('peg 1 and runs 2, 4 of its line');
    expect(mostShared(one)).toBeGreaterThan(1);
  });
});

describe('a seam swept through some of what it meets', () => {
  it('tells what it leaves whole in the way of what it frees', async () => {
    const on = createEvaluator(onlyHere(kernel), await sculptOf(hooked()));
    const line: Vec3[] = [
      [40, 0, -15],
      [0, 0, -15],
      [-40, 0, -15.5],
    ];
    const job = jobOf([{ line, through: [[-25, 0, -15]] }]);
    const { evaluation } = await on.evaluate(job);
    expect(evaluation.seams[0].draw.free).toBe(false);
    expect(evaluation.findings.map(({ code }) => code)).toContain('draw-blocked');
    expect(
      on.outline('neck', job.seams[0].by).map(({ outlines, uncut }) => [outlines.length, uncut.length]),
    ).toEqual(evaluation.seams[0].facets.map(({ outlines, uncut }) => [outlines.length, uncut.length]));
  });
});

describe('the outlines of a line that is not cut yet', () => {
  it('are those that the cut then has', async () => {
    const [seam] = (await evaluated(Z)).evaluation.seams;
    const faces = block.outline('neck', jobOf([{ line: Z }]).seams[0].by);
    expect(faces.map(({ areaMm2 }) => areaMm2)).toEqual(
      seam.facets.map(({ areaMm2 }) => expect.closeTo(areaMm2, 6)),
    );
    expect(faces.map(({ frame }) => frame)).toEqual(seam.facets.map(({ frame }) => frame));
    expect(
      block.outline('neck', jobOf([{ line: [...Z].map(() => [0, 0, 0] as const) }]).seams[0].by),
    ).toEqual([]);
  });
});
