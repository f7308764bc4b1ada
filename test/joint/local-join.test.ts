import { beforeAll, describe, expect, it } from 'vitest';
import { makeRandom } from '../../src/demo/prng.ts';
import { seatingOf } from '../../src/joint/host.ts';
import { closedBody, type Joint, jointVolume, type Role } from '../../src/joint/joint.ts';
import { localJoin } from '../../src/joint/local-join.ts';
import { suggestPlaces } from '../../src/joint/suggest-places.ts';
import { taperFault } from '../../src/joint/taper.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { kernelJoin } from '../../src/kernel/solid.ts';
import type { Vec2, Vec3 } from '../../src/math/vec3.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import { meshOf } from '../../src/mesh/part.ts';
import { apart, boxFrame, lumpySphere, nestedBalls, ring, turned } from '../support/figures.ts';
import {
  cutFigure,
  type Fixture,
  faceArea,
  isSound,
  jointsAt,
  pegOf,
  reachOf,
  SEAM,
  volumeOf,
} from '../support/seam-fixture.ts';
import { symmetricDifference } from '../support/symmetric-difference.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const FIGURES: ((seed: number) => Mesh)[] = [
  (seed) => lumpySphere(seed, 15, 3, 0.3),
  (seed) => lumpySphere(seed, 12, 1, 0.3),
  () => boxFrame(40, 12, 14),
  nestedBalls,
  apart,
  ring,
];

type Side = 'front' | 'back';
const other = (side: Side): Side => (side === 'front' ? 'back' : 'front');

/** A figure cut at random, or null where the plane misses it. */
function randomFixture(seed: number, random: () => number): Fixture | null {
  const figure = FIGURES[Math.floor(random() * FIGURES.length)](seed);
  const mesh = turned(figure, random() * 7, random() * 3, random() * 7);
  const normal: Vec3 = [random() - 0.5, random() - 0.5, random() - 0.5];
  return cutFigure(kernel, mesh, normal, (random() - 0.5) * 12);
}

/** Sizes at random for a peg about `width` wide; some without rounded edges. */
const randomPeg = (random: () => number, width: number) =>
  pegOf({
    widthMm: width,
    heightMm: width * (0.6 + 0.8 * random()),
    lengthMm: width * (0.3 + 1.2 * random()),
    draftDeg: random() * 15,
    edgeRadiusMm: random() < 0.2 ? 0 : width * 0.15 * random(),
    spinDeg: random() * 360,
    sideGapMm: 0.05 + 0.3 * random(),
    endGapMm: 0.1 + 0.6 * random(),
  });

/**
 * How far the peg's root reaches into its part for the kernel: far enough that no two faces
 * coincide, and so little that it cannot come out of a skin that leans inward behind the face.
 */
const ROOT = 0.02;

/** Joins both ways and holds the results against each other. */
function expectEqualJoins(fixture: Fixture, which: Side, joints: Joint[], title: string): void {
  const { part, face } = fixture[which];
  const mine = localJoin(kernel, part, SEAM, which, face, joints);
  const bodies = joints.map((joint) => ({
    of: joint.of,
    body: closedBody(joint, joint.of.role === 'peg' ? ROOT : 1),
  }));
  const theirs = kernelJoin(kernel, part, bodies);
  const joined = joints.reduce((sum, joint) => sum + jointVolume(joint), 0);
  const signed = joints.reduce(
    (sum, joint) => sum + (joint.of.role === 'peg' ? 1 : -1) * jointVolume(joint),
    0,
  );
  // Vertices of the face are off its plane by no more than a float step of the figure's size.
  const rounding = faceArea(face) * 2 ** -23 * reachOf(mine);
  expect(isSound(mine), `${title}: closed`).toBe(true);
  expect(Math.abs(volumeOf(mine) - volumeOf(theirs)), `${title}: volume`).toBeLessThan(
    1e-6 * joined + rounding,
  );
  expect(Math.abs(volumeOf(mine) - volumeOf(part) - signed), `${title}: joint's volume`).toBeLessThan(
    1e-6 * joined + rounding,
  );
  const { onlyA, onlyB } = symmetricDifference(kernel, meshOf(mine), meshOf(theirs));
  expect(onlyA + onlyB, `${title}: symmetric difference`).toBeLessThan(1e-4 * joined);
  expect(onlyA + onlyB, `${title}: symmetric difference against rounding`).toBeLessThan(rounding);
}

/** One peg at random near the roomiest place of a random face; null where the throw makes no peg. */
function randomJoint(seed: number) {
  const random = makeRandom(seed);
  const fixture = randomFixture(seed, random);
  if (!fixture) return null;
  const pegOn: Side = random() < 0.5 ? 'front' : 'back';
  const [place] = suggestPlaces(fixture[other(pegOn)].face.loops, [], 1);
  const drift = place.radius * 1.2 * random();
  const towards = random() * 7;
  const at: Vec2 = [place.at[0] + drift * Math.cos(towards), place.at[1] + drift * Math.sin(towards)];
  const peg = randomPeg(random, place.radius * (0.2 + 1.2 * random()));
  return taperFault(peg) ? null : { fixture, pegOn, joints: jointsAt(fixture.cut, at, peg, pegOn) };
}

describe('a joint on the face alone', () => {
  it('gives what the kernel gives, for one peg or socket on random faces, seeds 1–75', () => {
    let compared = 0;
    let refused = 0;
    for (let seed = 1; seed <= 75; seed++) {
      const made = randomJoint(seed);
      if (!made) continue;
      const { fixture, pegOn, joints } = made;
      for (const role of ['peg', 'socket'] as Role[]) {
        const which = role === 'peg' ? pegOn : other(pegOn);
        const { part, face } = fixture[which];
        if (!seatingOf(part, face, joints[role]).local) {
          refused++;
          continue;
        }
        expectEqualJoins(fixture, which, [joints[role]], `seed ${seed}, ${role} on the ${which}`);
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(55);
    expect(refused).toBeGreaterThan(30);
  }, 120_000);

  it('gives what the kernel gives, for two to four joints on one face, seeds 201–216', () => {
    let compared = 0;
    for (let seed = 201; seed <= 216; seed++) {
      const random = makeRandom(seed);
      const fixture = randomFixture(seed, random);
      if (!fixture) continue;
      const pegOn: Side = random() < 0.5 ? 'front' : 'back';
      const places = suggestPlaces(fixture[other(pegOn)].face.loops, [], 2 + Math.floor(random() * 3));
      const joints = places
        .map(({ at, radius }, i) => ({ at, i, peg: randomPeg(random, radius * 0.9) }))
        .filter(({ peg }) => !taperFault(peg))
        .map(({ at, i, peg }) => jointsAt(fixture.cut, at, peg, pegOn, i));
      for (const role of ['peg', 'socket'] as Role[]) {
        const which = role === 'peg' ? pegOn : other(pegOn);
        const { part, face } = fixture[which];
        const local = joints
          .map((joint) => joint[role])
          .filter((joint) => seatingOf(part, face, joint).local);
        if (local.length < 2) continue;
        expectEqualJoins(fixture, which, local, `seed ${seed}, ${local.length} ${role}s on the ${which}`);
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(12);
  }, 120_000);

  it('changes nothing but the face: every skin triangle keeps its corners bit for bit', () => {
    const fixture = cutFigure(kernel, lumpySphere(5, 15), [0.2, 0.3, 1], 1) as Fixture;
    const { peg, socket } = jointsAt(fixture.cut, [0, 0], pegOf());
    for (const [which, joint] of [
      ['back', peg],
      ['front', socket],
    ] as const) {
      const { part, face } = fixture[which];
      const done = localJoin(kernel, part, SEAM, which, face, [joint]);
      expect(done.patches[0].triangles).toBe(part.patches[0].triangles);
      expect(done.positions.subarray(0, part.positions.length)).toEqual(part.positions);
    }
  });

  it('answers the part itself when there is nothing to join', () => {
    const { back } = cutFigure(kernel, lumpySphere(5, 15), [0, 0, 1], 0) as Fixture;
    expect(localJoin(kernel, back.part, SEAM, 'back', back.face, [])).toBe(back.part);
  });
});
