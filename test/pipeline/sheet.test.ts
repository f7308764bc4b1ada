import { beforeAll, describe, expect, it } from 'vitest';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { scoped } from '../../src/kernel/scope.ts';
import { dot, type Vec3 } from '../../src/math/vec3.ts';
import { meshOf } from '../../src/mesh/part/part.ts';
import type { Job } from '../../src/model/job.ts';
import type { SheetSpec } from '../../src/model/seam-schema.ts';
import { sheetSeam } from '../../src/model/swept-seam.ts';
import { createEvaluator, type Evaluated, type Evaluator } from '../../src/pipeline/evaluate.ts';
import { inEnglish } from '../support/in-english.ts';
import { jobOf, type PegInput, sculptOf } from '../support/job.ts';
import { isSound } from '../support/seam-fixture.ts';
import { sharedVolume } from '../support/sheet-judge.ts';
import { box, fanned, hooked, type Polyhedron, together } from '../support/simple-solids.ts';

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

describe('a seam whose line turns back beside the figure', () => {
  /** Seen towards −y: the upper part reaches to the right under a finger of the lower one, with air between. */
  const HOOKS: Vec3[] = [
    [-30, 0, 0],
    [5, 0, 0],
    [5, 0, 10],
    [-15, 0, 10],
    [-15, 0, 20],
    [30, 0, 20],
  ];
  const on = async () => {
    const bars: [number, number, number, number][] = [
      [10, 20, -20, 40],
      [-20, 10, -5, 8],
      [-14, 12, 12, 34],
      [-20, -16, -5, 40],
      [-20, 20, 30, 40],
    ];
    const mesh = scoped((own) => {
      const solids = bars.map(([x, x1, z, z1]) =>
        own(own(kernel.Manifold.cube([x1 - x, 20, z1 - z])).translate([x, -10, z])),
      );
      const { vertProperties, triVerts } = own(kernel.Manifold.union(solids)).getMesh();
      return { positions: Float32Array.from(vertProperties), triangles: Uint32Array.from(triVerts) };
    });
    return createEvaluator(onlyHere(kernel), await sculptOf(mesh));
  };
  /** The front is above where the line is walked against x. */
  const hooksOn = async (line: Vec3[], pegs: PegInput[]) => {
    const job = jobOf([{ line, pegs }]);
    const by = { ...job.seams[0].by, along: [0, -1, 0] } as SheetSpec;
    return (await on()).evaluate({ ...job, seams: [{ ...job.seams[0], by }] });
  };

  it('comes off the one way that lets go of the hooks too', async () => {
    const one = await hooksOn(HOOKS, []);
    expect(told(one)).toEqual(['warning seam-without-peg']);
    expect(one.evaluation.seams[0].draw.axis).toEqual([-1, 0, 0].map((c) => expect.closeTo(c, 9)));
    expect(mostShared(one)).toBeLessThan(1e-3);
  });

  it('tells of hooks that a peg’s way runs into', async () => {
    const peg = { kind: 'taper', at: [-6, 0, 0], widthMm: 4, heightMm: 4, lengthMm: 3 } as const;
    const one = await hooksOn(HOOKS, [peg]);
    expect(mostShared(one)).toBeGreaterThan(1);
    expect(told(one)).toContain('error draw-blocked');
    expect(one.evaluation.seams[0].draw.free).toBe(false);
    const [blocked] = one.evaluation.findings.filter(({ code }) => code === 'draw-blocked');
    expect(inEnglish.finding(blocked)).toContain('its line turns back beside the figure');
  });

  it('slides along its sweep where no direction lets go of all hooks', async () => {
    const BOTH: Vec3[] = [...HOOKS.slice(0, 3), [-15, 0, 9], ...HOOKS.slice(4)];
    const one = await hooksOn(BOTH, []);
    expect(told(one)).toContain('info draw-sideways');
    expect(mostShared(one)).toBeLessThan(1e-3);
  });

  it('has a direction where it meets nothing at all', async () => {
    const apart = together(fanned(box([-9, -5, -20], [9, 5, -12])), fanned(box([-9, -5, 12], [9, 5, 20])));
    const between = createEvaluator(onlyHere(kernel), await sculptOf(apart));
    const back: Vec3[] = [
      [-20, 0, 0],
      [6, 0, 0],
      [-6, 0, 4],
      [20, 0, 4],
    ];
    const one = await evaluated(back, [], between);
    expect(Math.hypot(...one.evaluation.seams[0].draw.axis)).toBeCloseTo(1, 9);
    expect(mostShared(one)).toBeLessThan(1e-3);
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

describe('a seam along a smooth line', () => {
  /** A post of 10 mm radius about z, 30 mm high, of 96 sides. */
  const post = () => fanned(prism(96, 10, 30));
  const arc = (radius: number, x: number, count: number): Vec3[] =>
    Array.from({ length: count }, (_, i): Vec3 => {
      const angle = Math.PI * (1.5 - i / (count - 1));
      return [x + radius * Math.cos(angle), radius * Math.sin(angle), 0];
    });

  it('has the lens that two circles share, to its closed form', async () => {
    const on = createEvaluator(onlyHere(kernel), await sculptOf(post()));
    // An arc of radius 8 about (12, 0), swept along the post, open to the right: left of it is what lies to its left.
    const by = { ...sheetSeam(arc(8, 12, 25), [0, 0, 1], 'smooth') };
    const job = withBy(by);
    const { evaluation, tree } = await on.evaluate(job);
    const polygon = (96 / 2) * 100 * Math.sin((2 * Math.PI) / 96);
    // Lens of circles of radii R and r whose middles are d apart (Weisstein, “Circle-Circle Intersection”, from memory).
    const [R, r, d] = [10, 8, 12];
    const lens =
      r * r * Math.acos((d * d + r * r - R * R) / (2 * d * r)) +
      R * R * Math.acos((d * d + R * R - r * r) / (2 * d * R)) -
      Math.sqrt((-d + r + R) * (d + r - R) * (d - r + R) * (d + r + R)) / 2;
    const volumes = evaluation.parts.map(({ volumeMm3 }) => volumeMm3);
    expect(volumes[0] + volumes[1]).toBeCloseTo(30 * polygon, 2);
    const cut = Math.min(...volumes);
    // The post has sides: up to a thousandth of the lens is missing at its rim.
    expect(Math.abs(cut / 30 - lens) / lens).toBeLessThan(2e-3);
    expect(tree.parts.every(({ part }) => isSound(part))).toBe(true);
    expect(told({ evaluation, tree })).toContain('warning seam-all-bent');
    expect(evaluation.seams[0].areaMm2).toBeGreaterThan(30 * 10);
  });

  it('carries a peg on a flat of its own, and none without', async () => {
    const on = createEvaluator(onlyHere(kernel), await sculptOf(fanned(box([-20, -15, -12], [20, 15, 12]))));
    const line: Vec3[] = [-20, -10, 0, 10, 20].map((x) => [x, 0, 4 - (x * x) / 80]);
    const bent = sheetSeam(line, [0, 1, 0], 'smooth');
    const bare = await on.evaluate(withBy(bent, [auto]));
    expect(told(bare)).toContain('error seam-all-bent');
    const flat = { ...bent, flats: [{ at: [0, 0, 4] as Vec3, widthMm: 12 }] };
    const one = await on.evaluate(withBy(flat, [auto]));
    const [seam] = one.evaluation.seams;
    const standing = seam.facets[seam.joints[0].facet];
    expect(seam.joints.length).toBe(1);
    expect(standing.areaMm2).toBeCloseTo(30 * 12, 1);
    expect([standing.frame.n[0], Math.abs(standing.frame.n[2])]).toEqual([
      expect.closeTo(0, 3),
      expect.closeTo(1, 6),
    ]);
    expect(Math.abs(seam.joints[0].sideGapMm!.min - 0.12)).toBeLessThan(0.005);
    // The line is as it was when it is turned half round about the peg.
    expect(told(one)).toEqual(['info seats-more-than-one-way']);
    expect(one.tree.parts.every(({ part }) => isSound(part))).toBe(true);
    expect(mostShared(one)).toBeLessThan(1e-3);
  });

  it('with flats that overlap is refused', async () => {
    const line: Vec3[] = [-20, -10, 0, 10, 20].map((x) => [x, 0, 4 - (x * x) / 80]);
    const flats = [0, 3].map((x) => ({ at: [x, 0, 4] as Vec3, widthMm: 6 }));
    await expect(
      block.evaluate(withBy({ ...sheetSeam(line, [0, 1, 0], 'smooth'), flats })),
    ).rejects.toMatchObject({
      code: 'seam-line-folds',
      facts: { is: 'flats' },
    });
  });
});

const withBy = (by: SheetSpec, pegs: PegInput[] = []): Job => {
  const job = jobOf([{ pegs }]);
  return { ...job, seams: job.seams.map((seam) => ({ ...seam, by })) };
};

/** A regular prism about z, from z = 0. */
function prism(sides: number, radius: number, height: number): Polyhedron {
  const around = Array.from({ length: sides }, (_, i) => (2 * Math.PI * i) / sides);
  const vertices = [0, height].flatMap((z) =>
    around.map((a): [number, number, number] => [radius * Math.cos(a), radius * Math.sin(a), z]),
  );
  const low = around.map((_, i) => i);
  const walls = low.map((i) => {
    const j = (i + 1) % sides;
    return [i, j, sides + j, sides + i];
  });
  return { vertices, faces: [[...low].reverse(), low.map((i) => sides + i), ...walls] };
}
