import bunny from 'bunny';
import { beforeAll, describe, expect, it } from 'vitest';
import { sweptDraw } from '../../src/check/draw-directions.ts';
import { buildHeron } from '../../src/demo/heron.ts';
import { makeRandom } from '../../src/demo/prng.ts';
import { PegwrightError } from '../../src/errors.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import type { Vec3 } from '../../src/math/vec3.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { meshOf, partOf } from '../../src/mesh/part/part.ts';
import { weld } from '../../src/mesh/topology/weld.ts';
import { planeSeam, withThrough } from '../../src/model/seam-spec.ts';
import { sheetSeam } from '../../src/model/swept-seam.ts';
import type { Cut } from '../../src/seam/cut.ts';
import { planeKind } from '../../src/seam/kinds/plane.ts';
import { sheetKind } from '../../src/seam/kinds/sheet.ts';
import { obtainArmadillo, offSoup } from '../support/armadillo.ts';
import { boxFrame, lumpySphere, nestedBalls, ring, steppedBlock } from '../support/figures.ts';
import { limbed } from '../support/limbed.ts';
import { countShells, faultyEdges } from '../support/outline-judge.ts';
import { isSound, SEAM, volumeOf } from '../support/seam-fixture.ts';
import { clearOf, foundIn, kernelVolumes, sharedVolume } from '../support/sheet-judge.ts';
import { box, fanned, hooked, legged, plainVolume } from '../support/simple-solids.ts';
import { sweep } from '../support/sweep.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

/** A whole sweep asks the kernel for hundreds of cuts, ms. */
const LONG = 1_200_000;

const placeOf = ({ positions: p }: Mesh) => {
  const [low, high] = [Math.min, Math.max].map((of) =>
    [0, 1, 2].map((k) => p.reduce((best, c, i) => (i % 3 === k ? of(best, c) : best), p[k])),
  );
  return {
    originMm: [0, 0, 0] as Vec3,
    middle: low.map((c, k) => (c + high[k]) / 2) as unknown as Vec3,
    longestMm: Math.max(...high.map((c, k) => c - low[k])),
  };
};

const cutBy = (mesh: Mesh, line: readonly Vec3[], along: Vec3, through: Vec3[] | null = null): Cut =>
  sheetKind.cut(
    kernel,
    [partOf(mesh)],
    withThrough(sheetSeam(line, along), through) as ReturnType<typeof sheetSeam>,
    SEAM,
    placeOf(mesh),
  );

/** A seeded sheet of two to six runs through a figure, most of them rising from end to end; one that folds is drawn anew. */
function randomSheet(mesh: Mesh, seed: number): { line: Vec3[]; along: Vec3; cut: Cut } {
  const random = makeRandom(seed);
  const { middle, longestMm } = placeOf(mesh);
  for (;;) {
    const along: Vec3 = [random() - 0.5, random() - 0.5, random() - 0.5];
    const count = 2 + Math.floor(random() * 5);
    const span = longestMm * (0.2 + 0.5 * random());
    const line = Array.from({ length: count }, (_, i): Vec3 => {
      const step = (i / (count - 1) - 0.5) * span;
      return middle.map(
        (c, k) => c + (k === 0 ? step : 0) + (random() - 0.5) * span * (k === 1 ? 0.5 : 0.3),
      ) as unknown as Vec3;
    });
    try {
      return { line, along, cut: cutBy(mesh, line, along) };
    } catch (thrown) {
      if (!(thrown instanceof PegwrightError) || thrown.code !== 'seam-line-folds') throw thrown;
    }
  }
}

const bunnyMesh = (): Mesh => ({
  positions: Float32Array.from(bunny.positions.flat()),
  triangles: Uint32Array.from(bunny.cells.flat()),
});

function armadilloMesh(): Mesh | null {
  const got = obtainArmadillo();
  if ('missing' in got) return null;
  const positions = offSoup(got.off, 200);
  return weld({ positions, triangles: Uint32Array.from({ length: positions.length / 3 }, (_, i) => i) }).mesh;
}

/** Cuts and judges: volumes by the kernel, closed, the rest untouched, and parts that slide along the draw. */
function judge(mesh: Mesh, seed: number, isPlain = true): Cut['way'] {
  const { line, along, cut } = randomSheet(mesh, seed);
  const { longestMm } = placeOf(mesh);
  const [front, back] = [meshOf(cut.front), meshOf(cut.back)];
  expect([faultyEdges(front), faultyEdges(back)]).toEqual([0, 0]);
  const volume = plainVolume(mesh);
  const reach = 4 * longestMm;
  const theirs = kernelVolumes(kernel, mesh, line, along, reach);
  if (isPlain) expect(Math.abs(plainVolume(front) + plainVolume(back) - volume) / volume).toBeLessThan(1e-6);
  expect(Math.abs(plainVolume(front) - theirs.left) / volume).toBeLessThan(1e-6);
  expect(Math.abs(plainVolume(back) - theirs.right) / volume).toBeLessThan(1e-6);
  const clear = clearOf(mesh, line, along, reach, 1e-3);
  const [inFront, inBack] = [foundIn(mesh, front), foundIn(mesh, back)];
  if (cut.way === 'local') expect(clear.filter((is, t) => is && inFront[t] + inBack[t] !== 1)).toEqual([]);
  const draw = sweptDraw(cut.draw.swept!, []);
  if (!('axis' in draw)) throw new Error('a sheet without joints always has a draw');
  if (theirs.left > 0 && theirs.right > 0)
    for (const step of [0.05, 1, longestMm / 4]) {
      const by = draw.axis.map((c) => c * step) as unknown as Vec3;
      expect(sharedVolume(kernel, front, back, by) / volume).toBeLessThan(2e-6);
    }
  return cut.way;
}

describe('a sheet of straight runs', () => {
  const run = (figure: (seed: number) => Mesh, seeds: readonly number[], leastLocal = 0.9) => {
    const ways = seeds.map((seed) => judge(figure(seed), seed));
    expect(ways.filter((way) => way === 'local').length).toBeGreaterThan(leastLocal * seeds.length);
  };
  it('divides generated figures as the kernel does', { timeout: LONG }, () => {
    const figures = [
      (seed: number) => lumpySphere(seed, 20, 3, 0.3),
      (seed: number) => lumpySphere(seed, 20, 1, 0.3),
      () => ring(),
      () => boxFrame(40, 16, 14),
      nestedBalls,
      () => steppedBlock(20, 8, 12, 15),
    ];
    run((seed) => figures[seed % figures.length](seed), sweep(1, 120, 36));
  });
  it('divides the bunny', { timeout: LONG }, () => {
    const mesh = bunnyMesh();
    run(() => mesh, sweep(1000, 120, 6));
  });
  it('divides the demo figure', { timeout: LONG }, () => {
    const mesh = buildHeron({ triangles: 20_000 });
    run(() => mesh, sweep(2000, 100, 5));
  });
  it('divides a scanned figure', { timeout: LONG }, (context) => {
    const mesh = armadilloMesh();
    if (mesh === null) return context.skip();
    // Scans cross themselves here and there: where a sheet meets that, the kernel divides.
    run(() => mesh, sweep(3000, 80, 3), 0.5);
  });

  it('has the exact volumes of a block divided by a Z', () => {
    const mesh = fanned(box([-20, -15, -12], [20, 15, 12]));
    const cut = cutBy(
      mesh,
      [
        [-20, 0, -4],
        [-3, 0, -4],
        [3, 0, 6],
        [20, 0, 6],
      ],
      [0, 1, 0],
    );
    // Below the line, which is left of it seen towards −y: 30 × (17 × 8 + 6 × (8 + 18) / 2 + 17 × 18).
    expect(volumeOf(cut.front)).toBeCloseTo(30 * (17 * 8 + 78 + 17 * 18), 3);
    expect(volumeOf(cut.front) + volumeOf(cut.back)).toBeCloseTo(40 * 30 * 24, 3);
    expect([isSound(cut.front), isSound(cut.back), cut.way]).toEqual([true, true, 'local']);
  });

  it('of one run is the plane’s cut', () => {
    for (const seed of sweep(1, 60, 20)) {
      const mesh = lumpySphere(seed, 20, 3, 0.3);
      const random = makeRandom(seed);
      const along: Vec3 = [random() - 0.5, random() - 0.5, random() - 0.5];
      const line: Vec3[] = [0, 1].map(() => [random() * 8 - 4, random() * 8 - 4, random() * 8 - 4] as Vec3);
      const cut = cutBy(mesh, line, along);
      const { n, origin } = cut.facets[0].frame;
      const offset = n[0] * origin[0] + n[1] * origin[1] + n[2] * origin[2];
      const plane = planeKind.cut(kernel, [partOf(mesh)], planeSeam(n, offset), SEAM, placeOf(mesh));
      expect(volumeOf(cut.front)).toBeCloseTo(volumeOf(plane.front), 4);
      expect(volumeOf(cut.back)).toBeCloseTo(volumeOf(plane.back), 4);
    }
  });

  it('where its corner grazes the skin, or a run lies in it, is right all the same', () => {
    const mesh = fanned(box([-20, -15, -12], [20, 15, 12]));
    const lines: Vec3[][] = [
      // A corner exactly in the top, runs exactly in the top, a run along a diagonal of a side.
      [
        [-20, 0, 0],
        [0, 0, 12],
        [20, 0, 0],
      ],
      [
        [-30, 0, 12],
        [0, 0, 12],
        [30, 0, -12],
      ],
      [
        [-20, 0, -12],
        [20, 0, 12],
      ],
      [
        [-20, 0, -20],
        [-20, 0, 4],
        [25, 0, 4],
      ],
      [
        [-30, 0, 12],
        [30, 0, 12.000001],
      ],
    ];
    for (const line of lines) {
      const cut = cutBy(mesh, line, [0, 1, 0]);
      const theirs = kernelVolumes(kernel, mesh, line, [0, 1, 0], 200);
      expect(volumeOf(cut.front)).toBeCloseTo(theirs.left, 1);
      expect(volumeOf(cut.front) + volumeOf(cut.back)).toBeCloseTo(28800, 2);
      for (const part of [cut.front, cut.back]) expect(part.patches.length === 0 || isSound(part)).toBe(true);
    }
  });

  it('that folds is refused with the place', () => {
    const mesh = fanned(box([-20, -15, -12], [20, 15, 12]));
    const why = (line: Vec3[]) => {
      try {
        cutBy(mesh, line, [0, 1, 0]);
      } catch (thrown) {
        if (thrown instanceof PegwrightError && thrown.code === 'seam-line-folds') return thrown.facts;
        throw thrown;
      }
      return null;
    };
    expect(
      why([
        [-9, 0, 0],
        [9, 0, 0],
        [9, 5, 0.0001],
        [9, 0, 9],
      ]),
    ).toMatchObject({ is: 'doubled' });
    expect(
      why([
        [-9, 0, 0],
        [9, 0, 0],
        [0, 0, 8],
        [0, 0, -8],
      ]),
    ).toMatchObject({ is: 'crosses' });
    expect(
      why([
        [-9, 0, 0],
        [9, 0, 0],
        [-9, 0, 0.3],
      ]),
    ).toMatchObject({ is: 'crosses' });
    expect(
      why([
        [-9, 0, 0],
        [9, 0, 0],
        [-9, 0, 8],
      ]),
    ).toBeNull();
  });
});

describe('a sheet through some of the outlines that it meets', () => {
  it('of one run cuts as the plane does', () => {
    for (const seed of sweep(1, 40, 12)) {
      const mesh = limbed(seed, 3);
      const place = placeOf(mesh);
      const [face] = planeKind.outline(kernel, [partOf(mesh)], planeSeam([0, 0, 1], -20), place);
      for (const loop of face.loops) {
        const at = [0, 1, 2].map(
          (k) => face.frame.origin[k] + loop[0] * face.frame.u[k] + loop[1] * face.frame.v[k],
        ) as unknown as Vec3;
        const plane = planeKind.cut(
          kernel,
          [partOf(mesh)],
          withThrough(planeSeam([0, 0, 1], -20), [at]) as ReturnType<typeof planeSeam>,
          SEAM,
          place,
        );
        // Seen towards −y, to the left of a line to −x is up.
        const sheet = cutBy(
          mesh,
          [
            [5, 0, -20],
            [-5, 0, -20],
          ],
          [0, 1, 0],
          [at],
        );
        expect([volumeOf(sheet.front), volumeOf(sheet.back)]).toEqual([
          expect.closeTo(volumeOf(plane.front), 3),
          expect.closeTo(volumeOf(plane.back), 3),
        ]);
        expect(sheet.facets[0].uncut.length).toBe(plane.facets[0].uncut.length);
        expect([isSound(sheet.front), isSound(sheet.back)]).toEqual([true, true]);
      }
    }
  });

  it('frees one leg by a stair, and leaves the other whole to the bit', () => {
    const stair: Vec3[] = [
      [40, 0, -8],
      [-24, 0, -8],
      [-25, 0, -12],
      [-40, 0, -12],
    ];
    const cut = cutBy(legged(), stair, [0, 1, 0], [[-25, 0, -10]]);
    const [leg] = [meshOf(cut.back)];
    expect([countShells(leg), countShells(meshOf(cut.front))]).toEqual([1, 1]);
    // 12 mm deep: 10 × 8 below −12, 5 × 4 + 1 × 4 / 2 above it; the sheet is met by the other leg at −8, which stays.
    expect(volumeOf(cut.back)).toBeCloseTo(12 * (10 * 8 + 4 * 4 + 2), 3);
    const kept = foundIn(legged(), meshOf(cut.front));
    expect(kept.filter((count) => count === 1).length).toBeGreaterThan(20);
    expect(cut.facets.map(({ uncut }) => uncut.length)).toEqual([1, 0, 0]);
  });

  it('that frees nothing is refused with the place of an outline that joins', () => {
    const torus = ring();
    const line: Vec3[] = [
      [30, 0, 0],
      [2, 0, 0],
      [0, 0, 1],
      [-2, 0, 0],
      [-30, 0, 0],
    ];
    expect(() => cutBy(torus, line, [0, 0, 1], [[14, 0, 0]])).toThrow(PegwrightError);
    const across: Vec3[] = [
      [0, 30, 0],
      [1, 10, 0],
      [0, -30, 0],
    ];
    try {
      cutBy(torus, across, [0, 0, 1], [[0, 14, 0]]);
      throw new Error('it divides');
    } catch (thrown) {
      const { code, facts } = thrown as PegwrightError<'seam-frees-nothing'>;
      expect(code).toBe('seam-frees-nothing');
      expect(facts.at[1]).toBeLessThan(-7);
    }
  });

  it('knows what may be in the way of what it frees', () => {
    const level: Vec3[] = [
      [40, 0, -15],
      [0, 0, -15],
      [-40, 0, -15.5],
    ];
    expect(cutBy(hooked(), level, [0, 1, 0], [[-25, 0, -15]]).draw.astray).not.toEqual({
      front: [],
      back: [],
    });
  });
});
