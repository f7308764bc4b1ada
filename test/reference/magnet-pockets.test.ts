import { beforeAll, describe, expect, it } from 'vitest';
import { makeRandom } from '../../src/demo/prng.ts';
import { jointKind } from '../../src/joint/kinds.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { scoped } from '../../src/kernel/scope.ts';
import { TOLERANCES } from '../../src/math/tolerances.ts';
import { meshOf } from '../../src/mesh/part/part.ts';
import type { JointShape } from '../../src/model/joint.ts';
import { createEvaluator, type Evaluator } from '../../src/pipeline/evaluate.ts';
import type { Point } from '../support/independent-gap.ts';
import { jobOf, sculptOf } from '../support/job.ts';
import {
  cornersAbout,
  discAbout,
  ringPoint,
  roundedVolume,
  soupOf,
  throwPlane,
} from '../support/round-hole.ts';
import { isSound } from '../support/seam-fixture.ts';
import { box, fanned, plainVolume } from '../support/simple-solids.ts';
import { boxed, distanceTo } from '../support/soup-gap.ts';
import { sweep } from '../support/sweep.ts';
import { solidOf } from '../support/symmetric-difference.ts';

/** Pockets for discs of all sizes through the whole evaluation, held against discs of the test's own. */

const HALF = 20;
/** What a gap may be off, mm: what is asked of every joint, and what facets may lie off the round surface. */
const ALLOWED = 0.005 + TOLERANCES.jointChord;
const GROUPS = [1, 51, 101, 151].map((from) => sweep(from, 50, 4));

let kernel: Kernel;
let block: Evaluator;
beforeAll(async () => {
  kernel = await loadKernel();
  block = createEvaluator(
    onlyHere(kernel),
    await sculptOf(fanned(box([-HALF, -HALF, -HALF], [HALF, HALF, HALF]))),
  );
});

function sizesFrom(random: () => number): Omit<JointShape, 'kind'> {
  for (;;) {
    const sideGapMm = 0.03 + 0.3 * random();
    const sizes = {
      diameterMm: 2 + 8 * random(),
      thicknessMm: 0.8 + 2.2 * random(),
      coverMm: random() < 0.5 ? 0 : 0.3 + 1.5 * random(),
      sideGapMm,
      endGapMm: sideGapMm + 0.5 * random(),
    };
    if (jointKind('magnet').fault({ kind: 'magnet', ...sizes }) === null) return sizes;
  }
}

/** Magnets by their seed: on planes that lean, each eighth on a level one so near to the skin that they are no local ones. */
function magnetFrom(seed: number) {
  const random = makeRandom(91_000 + seed);
  const sizes = sizesFrom(random);
  const isNear = seed % 8 === 0;
  const { normal, offsetMm } = throwPlane(random, isNear);
  const reach = sizes.diameterMm / 2 + sizes.sideGapMm;
  const at: Point = isNear
    ? [HALF - reach - 0.75 * TOLERANCES.localMargin, 8 * (random() - 0.5), 0]
    : ringPoint(
        normal.map((n) => n * offsetMm) as unknown as Point,
        normal,
        2 * random(),
        0,
        2 * Math.PI * random(),
      );
  const pegOn = random() < 0.5 ? ('front' as const) : ('back' as const);
  return { sizes, isNear, at, normal, offsetMm, pegOn };
}

describe('magnet pockets, sizes by seed', () => {
  for (const group of GROUPS) {
    it(`leave a disc of the size asked for its gaps to ${ALLOWED.toFixed(4)} mm in both closed parts, seeds from ${group[0]}`, async () => {
      const seen = { open: 0, closed: 0 };
      for (const seed of group) {
        const { sizes, isNear, at, normal, offsetMm, pegOn } = magnetFrom(seed);
        const { sideGapMm, endGapMm, thicknessMm, diameterMm, coverMm } = sizes;
        const job = jobOf([{ pegOn, normal, offsetMm, pegs: [{ kind: 'magnet', at, ...sizes }] }]);
        const { evaluation, tree } = await block.evaluate(job);
        const [joint] = evaluation.seams[0].joints;
        const title = `seed ${seed}`;
        seen[coverMm > 0 ? 'closed' : 'open']++;
        expect(joint.way, title).toBe(isNear ? 'collar' : 'local');
        const shells = coverMm > 0 ? 2 : 1;
        expect(
          evaluation.parts.map((part) => [part.closed, part.shells]),
          title,
        ).toEqual([
          [true, shells],
          [true, shells],
        ]);
        expect(
          tree.parts.every(({ part }) => isSound(part)),
          title,
        ).toBe(true);
        expect(joint.poles!.map(({ facing }) => facing).sort(), title).toEqual(['N', 'S']);
        const pegged = joint.poles!.find(({ facing }) => facing === 'N')!;
        expect(pegged.part, title).toBe(`neck ${pegOn}`);

        for (const [which, way] of [
          [0, 1],
          [1, -1],
        ] as const) {
          const axis = normal.map((n) => n * way) as unknown as Point;
          const part = meshOf(tree.parts[which].part);
          const pocket = meshOf(tree.parts[which].part, ({ kind }) => kind === 'joint');
          const walls = boxed(soupOf(pocket));
          const heights = cornersAbout(pocket, at, axis).map(({ along }) => along);
          const [low, high] = [Math.min(...heights), Math.max(...heights)];
          expect(Math.abs(low - coverMm), `${title}: cover`).toBeLessThan(1e-5);
          expect(Math.abs(high - coverMm - thicknessMm - endGapMm), `${title}: end`).toBeLessThan(ALLOWED);
          for (let i = 0; i < 24; i++) {
            // Farther over a hollow's floor than that, so that the side is the nearest.
            const from = coverMm > 0 ? Math.min(thicknessMm, sideGapMm + ALLOWED) : 0;
            const along = coverMm + from + ((thicknessMm - from) * (i % 5)) / 4;
            const p = ringPoint(at, axis, diameterMm / 2, along, 0.1 + (2 * Math.PI * i) / 24);
            expect(Math.abs(distanceTo(walls, p) - sideGapMm), `${title}: side`).toBeLessThan(ALLOWED);
          }
          scoped((own) => {
            const solid = solidOf(kernel, own, part);
            expect(solid.numTri(), title).toBe(part.triangles.length / 3);
            expect(Math.abs(solid.volume() - plainVolume(part)), title).toBeLessThan(1e-6 * solid.volume());
            const disc = discAbout(at, axis, diameterMm / 2, coverMm + 1e-4, coverMm + thicknessMm);
            expect(own(solid.intersect(solidOf(kernel, own, disc))).volume(), `${title}: disc ∩ part`).toBe(
              0,
            );
            // What lies over the magnet, and what lies beside its pocket's floor, is material all through.
            if (coverMm > 0) {
              const cover = discAbout(at, axis, diameterMm / 2, 1e-4, coverMm - 1e-4);
              const solidCover = solidOf(kernel, own, cover);
              const left = own(solid.intersect(solidCover)).volume();
              expect(Math.abs(left - solidCover.volume()), `${title}: cover`).toBeLessThan(
                1e-4 * left + 1e-9,
              );
            }
          });
          if (isNear) {
            const farthest = Math.max(...[...pocket.triangles].map((v) => pocket.positions[v * 3]));
            expect(Math.abs(joint.wallMm.min - (HALF - farthest)), `${title}: wall`).toBeLessThan(1e-4);
          }
        }
        for (const [told, asked] of [
          [joint.sideGapMm!, sideGapMm],
          [joint.endGapMm!, endGapMm],
        ] as const) {
          expect(Math.abs(told.min - asked), `${title}: told`).toBeLessThan(ALLOWED);
          expect(Math.abs(told.max - asked), `${title}: told`).toBeLessThan(ALLOWED);
        }
        const both = tree.parts.reduce((sum, { part }) => sum + plainVolume(meshOf(part)), 0);
        const radius = diameterMm / 2 + sideGapMm;
        const depth = thicknessMm + endGapMm;
        const pocketMm3 = roundedVolume(radius, depth, sideGapMm);
        const facets = 2 * Math.PI * radius * (radius + depth) * TOLERANCES.jointChord;
        const left = (2 * HALF) ** 3 - 2 * pocketMm3;
        expect(Math.abs(both - left), `${title}: balance`).toBeLessThan(2 * facets);
        expect(joint.addedMm3, title).toBe(0);
        const discs = 2 * Math.PI * (diameterMm / 2) ** 2 * thicknessMm;
        expect(Math.abs(2 * pocketMm3 - joint.glueMm3 - discs), `${title}: glue`).toBeLessThan(4 * facets);
      }
      expect(Math.min(seen.open, seen.closed)).toBeGreaterThan(0);
    }, 300_000);
  }
});
