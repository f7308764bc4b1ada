import { beforeAll, describe, expect, it } from 'vitest';
import { makeRandom } from '../../src/demo/prng.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { kernelCut } from '../../src/kernel/solid.ts';
import { plane } from '../../src/math/plane.ts';
import type { Vec3 } from '../../src/math/vec3.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { meshOf, partOf } from '../../src/mesh/part/part.ts';
import { cutPart } from '../../src/seam/cut.ts';
import { apart, boxFrame, lumpySphere, nestedBalls, ring, turned } from '../support/figures.ts';
import { isSound, SEAM, volumeOf } from '../support/seam-fixture.ts';
import { sweep } from '../support/sweep.ts';
import { symmetricDifference } from '../support/symmetric-difference.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const FIGURES: ((seed: number) => Mesh)[] = [
  (seed) => lumpySphere(seed, 15, 3, 0.3),
  (seed) => lumpySphere(seed, 12, 2, 0.4),
  () => boxFrame(40, 12, 14),
  nestedBalls,
  apart,
  ring,
];

/** A plane at random; every third goes exactly through a vertex, every fifth along an axis. */
function randomPlane(seed: number, mesh: Mesh, random: () => number) {
  const normal: Vec3 = seed % 5 === 0 ? [0, 0, 1] : [random() - 0.5, random() - 0.5, random() - 0.5];
  if (seed % 3 !== 0) return plane(normal, (random() - 0.5) * 14);
  const v = Math.floor((random() * mesh.positions.length) / 3) * 3;
  const unit = plane(normal, 0).normal;
  return plane(
    normal,
    unit[0] * mesh.positions[v] + unit[1] * mesh.positions[v + 1] + unit[2] * mesh.positions[v + 2],
  );
}

describe('a cut through typed arrays', () => {
  it.each([7001, 7101, 7201].map((from) => sweep(from, 100, 33)))(
    'gives both sides that the kernel gives, seeds from %i',
    (...seeds) => {
      let compared = 0;
      for (const seed of seeds) {
        const random = makeRandom(seed);
        const figure = FIGURES[Math.floor(random() * FIGURES.length)](seed);
        const mesh = turned(figure, random() * 7, random() * 3, random() * 7);
        const part = partOf(mesh);
        const cutting = randomPlane(seed, mesh, random);
        const mine = cutPart(kernel, part, cutting, SEAM, [0, 0, 0]);
        if (mine.way !== 'local' || mine.front.patches.length === 0 || mine.back.patches.length === 0)
          continue;
        const theirs = kernelCut(kernel, part, cutting, SEAM);
        const whole = volumeOf(part);
        for (const side of ['front', 'back'] as const) {
          const title = `seed ${seed}, ${side}`;
          expect(isSound(mine[side]), `${title}: closed`).toBe(true);
          expect(Math.abs(volumeOf(mine[side]) - volumeOf(theirs[side])), `${title}: volume`).toBeLessThan(
            1e-6 * whole,
          );
          const { onlyA, onlyB } = symmetricDifference(kernel, meshOf(mine[side]), meshOf(theirs[side]));
          expect(onlyA + onlyB, `${title}: symmetric difference`).toBeLessThan(2e-6 * whole);
        }
        compared++;
      }
      expect(compared).toBeGreaterThan(0.8 * seeds.length);
    },
    120_000,
  );
});
