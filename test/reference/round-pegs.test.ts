import { beforeAll, describe, expect, it } from 'vitest';
import { makeRandom } from '../../src/demo/prng.ts';
import { jointKind } from '../../src/joint/kinds.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { scoped } from '../../src/kernel/scope.ts';
import { TOLERANCES } from '../../src/math/tolerances.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { meshOf } from '../../src/mesh/part/part.ts';
import type { JointShape } from '../../src/model/joint.ts';
import { createEvaluator, type Evaluator } from '../../src/pipeline/evaluate.ts';
import { jobOf, type PegInput, sculptOf } from '../support/job.ts';
import { isSound } from '../support/seam-fixture.ts';
import { box, fanned, plainVolume } from '../support/simple-solids.ts';
import { boxed, distanceTo, samplesOn } from '../support/soup-gap.ts';
import { sweep } from '../support/sweep.ts';
import { solidOf } from '../support/symmetric-difference.ts';

/** Round pegs of all sizes through the whole evaluation, measured on the finished parts by code of the test's own. */

const HALF = 20;
/** What a gap may be off, mm: what is asked of every joint, and what facets may lie off the round surface. */
const ALLOWED = 0.005 + TOLERANCES.jointChord;
const GROUPS = [1, 51, 101, 151].map((from) => sweep(from, 50, 16));

let kernel: Kernel;
let block: Evaluator;
beforeAll(async () => {
  kernel = await loadKernel();
  const figure = fanned(box([-HALF, -HALF, -HALF], [HALF, HALF, HALF]));
  block = createEvaluator(onlyHere(kernel), await sculptOf(figure));
});

/** Sizes at random that can be made. */
function sizesFrom(random: () => number): Omit<JointShape, 'kind'> {
  for (;;) {
    const diameterMm = 1.5 + 9 * random();
    const sideGapMm = 0.03 + 0.35 * random();
    const sizes = {
      diameterMm,
      lengthMm: diameterMm * (0.4 + 1.2 * random()),
      draftDeg: random() < 0.1 ? 0 : 14 * random(),
      edgeRadiusMm: random() < 0.2 ? 0 : 0.15 * diameterMm * random(),
      sideGapMm,
      // No less than the side gap: else the side gap ends where the socket's core does.
      endGapMm: sideGapMm + 0.6 * random(),
    };
    if (jointKind('round').fault({ kind: 'round', ...sizes }) === null) return sizes;
  }
}

/** A peg by its seed: most with room around them, each eighth so near to the skin that it is no local one. */
function pegFrom(seed: number) {
  const random = makeRandom(47_000 + seed);
  const sizes = sizesFrom(random);
  const isNear = seed % 8 === 0;
  const reach = sizes.diameterMm / 2 + sizes.sideGapMm / Math.cos((sizes.draftDeg * Math.PI) / 180);
  const pegOn = random() < 0.5 ? ('front' as const) : ('back' as const);
  const x = isNear ? HALF - reach - 0.75 * TOLERANCES.localMargin : 8 * (random() - 0.5);
  const peg: PegInput = { kind: 'round', at: [x, 8 * (random() - 0.5), 0], ...sizes };
  return { sizes, isNear, pegOn, peg };
}

/** Corners of a mesh's triangles, nine numbers each. */
const soupOf = ({ positions, triangles }: Mesh): Float32Array =>
  Float32Array.from([...triangles].flatMap((v) => [...positions.subarray(v * 3, v * 3 + 3)]));

describe('round pegs, sizes by seed', () => {
  for (const group of GROUPS) {
    it(`have the gaps asked for to ${ALLOWED} mm in closed parts that do not meet, seeds from ${group[0]}`, async () => {
      const ways = { local: 0, collar: 0, kernel: 0 };
      for (const seed of group) {
        const { sizes, isNear, pegOn, peg } = pegFrom(seed);
        const { evaluation, tree } = await block.evaluate(jobOf([{ pegOn, pegs: [peg] }]));
        const [joint] = evaluation.seams[0].joints;
        const title = `seed ${seed}`;
        ways[joint.way]++;
        expect(joint.way, title).toBe(isNear ? 'collar' : 'local');
        expect(
          evaluation.parts.every(({ closed }) => closed),
          title,
        ).toBe(true);
        expect(
          tree.parts.every(({ part }) => isSound(part)),
          title,
        ).toBe(true);

        const [front, back] = tree.parts.map(({ part }) => part);
        const [pegged, socketed] = pegOn === 'front' ? [front, back] : [back, front];
        const added = meshOf(pegged, ({ kind }) => kind === 'joint');
        const taken = meshOf(socketed, ({ kind }) => kind === 'joint');
        const up = pegOn === 'front' ? -1 : 1;
        const socket = boxed(soupOf(taken));
        const sideRise = Math.sin((sizes.draftDeg * Math.PI) / 180) + 1e-3;
        // The kernel takes a peg's root a little into its own part: what lies under the face has no gap.
        const sides = samplesOn(soupOf(added)).filter(
          ({ point, normal }) => normal[2] * up < sideRise && point[2] * up > -1e-6,
        );
        expect(sides.length, title).toBeGreaterThan(30);
        const every = Math.ceil(sides.length / 60);
        for (const { point } of sides.filter((_, i) => i % every === 0))
          expect(Math.abs(distanceTo(socket, point) - sizes.sideGapMm), `${title}: side`).toBeLessThan(
            ALLOWED,
          );
        const [tip, end] = [added, taken].map((mesh) => topOf(mesh, up));
        expect(Math.abs(tip - sizes.lengthMm), `${title}: length`).toBeLessThan(1e-5);
        expect(Math.abs(end - tip - sizes.endGapMm), `${title}: end`).toBeLessThan(ALLOWED);
        for (const [told, asked] of [
          [joint.sideGapMm, sizes.sideGapMm],
          [joint.endGapMm, sizes.endGapMm],
        ] as const) {
          if (told === null) continue;
          expect(Math.abs(told.min - asked), `${title}: told`).toBeLessThan(ALLOWED);
          expect(Math.abs(told.max - asked), `${title}: told`).toBeLessThan(ALLOWED);
        }
        expect(joint.sideGapMm, title).not.toBeNull();

        scoped((own) => {
          const [a, b] = [pegged, socketed].map((part) => solidOf(kernel, own, meshOf(part)));
          expect(own(a.intersect(b)).volume(), `${title}: peg ∩ socketed part`).toBeLessThan(1e-9);
        });
        const both = plainVolume(meshOf(pegged)) + plainVolume(meshOf(socketed));
        const whole = (2 * HALF) ** 3 + joint.addedMm3 - joint.takenMm3;
        expect(Math.abs(both - whole), `${title}: balance`).toBeLessThan(1e-6 * whole);
      }
      expect(ways.local).toBeGreaterThan(0.8 * group.length);
      expect(ways.collar).toBeGreaterThan(0.1 * group.length - 1);
    }, 300_000);
  }
});

/** How far a surface reaches up (1) or down (−1), mm. */
const topOf = ({ positions, triangles }: Mesh, up: number): number =>
  triangles.reduce((most, v) => Math.max(most, positions[v * 3 + 2] * up), 0);
