import { beforeAll, describe, expect, it } from 'vitest';
import { makeRandom } from '../../src/demo/prng.ts';
import { seatingOf } from '../../src/joint/host.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { plane } from '../../src/math/plane.ts';
import type { Vec2, Vec3 } from '../../src/math/vec3.ts';
import { meshOf, partOf } from '../../src/mesh/part/part.ts';
import { createEvaluator } from '../../src/pipeline/evaluate.ts';
import { cutPart } from '../../src/seam/cut.ts';
import { apart, lumpySphere, nestedBalls, overlapping, ring, turned } from '../support/figures.ts';
import { jobOf, type PegInput, sculptOf } from '../support/job.ts';
import { cutFigure, type Fixture, isSound, jointsAt, pegOf, SEAM } from '../support/seam-fixture.ts';
import { sweep } from '../support/sweep.ts';

/** Cases where a fast way would be wrong by construction: none may be taken. */

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const direction = (random: () => number): Vec3 => [random() - 0.5, random() - 0.5, random() - 0.5];
const FIGURES = [(seed: number) => lumpySphere(seed, 14, 2, 0.3), nestedBalls, apart, ring];

function randomCut(seed: number, random: () => number): Fixture | null {
  const figure = FIGURES[seed % FIGURES.length](seed);
  return cutFigure(kernel, turned(figure, seed, seed / 3, seed / 7), direction(random), (random() - 0.5) * 8);
}

describe('the fast ways refuse', () => {
  it('a rim that an outline runs through, seeds 1–60', () => {
    let refused = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const random = makeRandom(81_000 + seed);
      const fixture = randomCut(seed, random);
      if (!fixture) continue;
      // The foot stands on a point of some outline, an island's or a hole's as well.
      const { loops } = fixture.front.face;
      const loop = loops[Math.floor(random() * loops.length)];
      const k = Math.floor((random() * loop.length) / 2) * 2;
      const at: Vec2 = [loop[k], loop[k + 1]];
      const width = 1 + 5 * random();
      const { peg, socket } = jointsAt(
        fixture.cut,
        at,
        pegOf({ widthMm: width, heightMm: width, spinDeg: 360 * random() }),
      );
      expect(seatingOf(fixture.back.part, fixture.back.face.loops, peg).local, `seed ${seed}`).toBe(false);
      expect(seatingOf(fixture.front.part, fixture.front.face.loops, socket).local, `seed ${seed}`).toBe(
        false,
      );
      refused++;
    }
    expect(refused).toBeGreaterThan(50);
  });

  it('a socket whose tip comes out of the far skin, seeds 1–60', () => {
    let refused = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const random = makeRandom(82_000 + seed);
      const fixture = cutFigure(
        kernel,
        lumpySphere(seed, 14, 2, 0.3),
        direction(random),
        (random() - 0.5) * 8,
      );
      if (!fixture) continue;
      const { n, origin } = fixture.cut.facets[0].frame;
      const heights = Array.from({ length: fixture.front.part.positions.length / 3 }, (_, v) =>
        [0, 1, 2].reduce((sum, k) => sum + n[k] * (fixture.front.part.positions[v * 3 + k] - origin[k]), 0),
      );
      // Longer than the part is high: wherever it stands, it must come out.
      const lengthMm = Math.max(...heights) + 0.5;
      const { socket } = jointsAt(
        fixture.cut,
        [0, 0],
        pegOf({ widthMm: 1.5, heightMm: 1.5, lengthMm, draftDeg: 0.5, edgeRadiusMm: 0.1 }),
      );
      expect(seatingOf(fixture.front.part, fixture.front.face.loops, socket).local, `seed ${seed}`).toBe(
        false,
      );
      refused++;
    }
    expect(refused).toBeGreaterThan(50);
  });

  it('two pegs whose sockets overlap, seeds from 1: the parts are closed all the same', async () => {
    const evaluator = createEvaluator(onlyHere(kernel), await sculptOf(lumpySphere(4, 18, 3, 0.2)));
    for (const seed of sweep(1, 40, 14)) {
      const random = makeRandom(83_000 + seed);
      const side = 2 + 3 * random();
      const pegAt = (x: number, y: number): PegInput => ({
        kind: 'taper',
        at: [x, y, 0],
        widthMm: side,
        heightMm: side,
        lengthMm: 4,
      });
      const angle = random() * 7;
      const apartBy = side * (0.2 + 0.7 * random());
      const pegs = [pegAt(0, 0), pegAt(apartBy * Math.cos(angle), apartBy * Math.sin(angle))];
      const { evaluation, tree } = await evaluator.evaluate(jobOf([{ pegs }]));
      expect(
        tree.seams[0].joints.map(({ way }) => way),
        `seed ${seed}`,
      ).not.toContain('local');
      expect(
        evaluation.findings.map(({ code }) => code),
        `seed ${seed}`,
      ).toContain('pegs-too-close');
      expect(
        tree.parts.every(({ part }) => isSound(part)),
        `seed ${seed}`,
      ).toBe(true);
    }
  }, 60_000);

  it('a cut through shells that overlap, seeds 1–40', () => {
    let refused = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const random = makeRandom(84_000 + seed);
      const mesh = turned(overlapping(seed), seed, seed / 3, seed / 7);
      const cut = cutPart(
        kernel,
        partOf(mesh),
        plane(direction(random), (random() - 0.5) * 2),
        SEAM,
        [0, 0, 0],
      );
      if (cut.front.patches.length === 0 || cut.back.patches.length === 0) continue;
      // Outlines of two shells on one plane cross, lie apart, or one within the other: only apart is plain.
      if (cut.way === 'kernel') refused++;
      for (const side of [cut.front, cut.back])
        expect(isSound(side), `seed ${seed}: ${meshOf(side).triangles.length}`).toBe(true);
    }
    expect(refused).toBeGreaterThan(25);
  });
});
