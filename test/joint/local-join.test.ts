import { beforeAll, describe, expect, it } from 'vitest';
import { makeRandom } from '../../src/demo/prng.ts';
import { seatingOf } from '../../src/joint/host.ts';
import { jointKind } from '../../src/joint/kinds.ts';
import { localJoin } from '../../src/joint/local-join.ts';
import { closedBody, type Piece, pieceVolume } from '../../src/joint/piece.ts';
import { suggestPlaces } from '../../src/joint/suggest-places.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { kernelJoin } from '../../src/kernel/solid.ts';
import { meshOf } from '../../src/mesh/part/part.ts';
import { lumpySphere } from '../support/figures.ts';
import { other, randomFixture, randomJoint, randomPeg, type Side } from '../support/random-joints.ts';
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
import { isWholeSweep, sweep } from '../support/sweep.ts';
import { symmetricDifference } from '../support/symmetric-difference.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

/**
 * How far the peg's root reaches into its part for the kernel: far enough that no two faces
 * coincide, and so little that it cannot come out of a skin that leans inward behind the face.
 */
const ROOT = 0.02;

/** Joins both ways and holds the results against each other; `isThorough`: by their symmetric difference too, which takes most of the time. */
function expectEqualJoins(
  fixture: Fixture,
  which: Side,
  joints: Piece[],
  title: string,
  isThorough = true,
): void {
  const { part, face } = fixture[which];
  const mine = localJoin(
    kernel,
    part,
    { seamId: SEAM, facet: 0 },
    fixture.cut.facets[0].frame,
    which,
    face,
    joints,
  );
  const bodies = joints.map((joint) => ({
    of: joint.of,
    body: closedBody(joint, joint.of.does === 'add' ? ROOT : 1),
  }));
  const theirs = kernelJoin(kernel, part, bodies);
  const joined = joints.reduce((sum, joint) => sum + pieceVolume(joint), 0);
  const signed = joints.reduce(
    (sum, joint) => sum + (joint.of.does === 'add' ? 1 : -1) * pieceVolume(joint),
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
  if (!isThorough) return;
  const { onlyA, onlyB } = symmetricDifference(kernel, meshOf(mine), meshOf(theirs));
  expect(onlyA + onlyB, `${title}: symmetric difference`).toBeLessThan(1e-4 * joined);
  expect(onlyA + onlyB, `${title}: symmetric difference against rounding`).toBeLessThan(rounding);
}

describe('a joint on the face alone', () => {
  it.each([1, 76, 151, 226, 301].map((from) => sweep(from, 75, 25)))(
    'gives what the kernel gives, for one peg or socket on random faces, seeds from %i',
    (...seeds) => {
      let compared = 0;
      let refused = 0;
      for (const seed of seeds) {
        const made = randomJoint(kernel, seed);
        if (!made) continue;
        const { fixture, pegOn, joints } = made;
        for (const role of ['peg', 'socket'] as const) {
          const which = role === 'peg' ? pegOn : other(pegOn);
          const { part, face } = fixture[which];
          if (!seatingOf(part, face.loops, joints[role]).local) {
            refused++;
            continue;
          }
          const title = `seed ${seed}, ${role} on the ${which}`;
          expectEqualJoins(fixture, which, [joints[role]], title, isWholeSweep || seed % 3 === 1);
          compared++;
        }
      }
      expect(compared).toBeGreaterThan(0.6 * seeds.length);
      expect(refused).toBeGreaterThan(0.2 * seeds.length);
    },
    120_000,
  );

  it('gives what the kernel gives, for two to four joints on one face, seeds from 2001', () => {
    let compared = 0;
    const seeds = sweep(2001, 40, 7);
    for (const seed of seeds) {
      const random = makeRandom(seed);
      const fixture = randomFixture(kernel, seed, random);
      if (!fixture) continue;
      const pegOn: Side = random() < 0.5 ? 'front' : 'back';
      const places = suggestPlaces(fixture[other(pegOn)].face.loops, [], 2 + Math.floor(random() * 3));
      const joints = places
        .map(({ at, radius }, i) => ({ at, i, peg: randomPeg(random, radius * 0.9) }))
        .filter(({ peg }) => !jointKind(peg.kind).fault(peg))
        .map(({ at, i, peg }) => jointsAt(fixture.cut, at, peg, pegOn, `${i}`));
      for (const role of ['peg', 'socket'] as const) {
        const which = role === 'peg' ? pegOn : other(pegOn);
        const { part, face } = fixture[which];
        const local = joints
          .map((joint) => joint[role])
          .filter((joint) => seatingOf(part, face.loops, joint).local);
        if (local.length < 2) continue;
        expectEqualJoins(fixture, which, local, `seed ${seed}, ${local.length} ${role}s on the ${which}`);
        compared++;
      }
    }
    expect(compared).toBeGreaterThan(0.75 * seeds.length);
  }, 120_000);

  it('changes nothing but the face: every skin triangle keeps its corners bit for bit', () => {
    const fixture = cutFigure(kernel, lumpySphere(5, 15), [0.2, 0.3, 1], 1) as Fixture;
    const { peg, socket } = jointsAt(fixture.cut, [0, 0], pegOf());
    for (const [which, joint] of [
      ['back', peg],
      ['front', socket],
    ] as const) {
      const { part, face } = fixture[which];
      const done = localJoin(
        kernel,
        part,
        { seamId: SEAM, facet: 0 },
        fixture.cut.facets[0].frame,
        which,
        face,
        [joint],
      );
      expect(done.patches[0].triangles).toBe(part.patches[0].triangles);
      expect(done.positions.subarray(0, part.positions.length)).toEqual(part.positions);
    }
  });

  it('answers the part itself when there is nothing to join', () => {
    const { cut, back } = cutFigure(kernel, lumpySphere(5, 15), [0, 0, 1], 0) as Fixture;
    const facet = { seamId: SEAM, facet: 0 };
    expect(localJoin(kernel, back.part, facet, cut.facets[0].frame, 'back', back.face, [])).toBe(back.part);
  });
});
