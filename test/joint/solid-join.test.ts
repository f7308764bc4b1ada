import { beforeAll, describe, expect, it } from 'vitest';
import { seatingOf } from '../../src/joint/host.ts';
import { closedBody, type Piece, pieceVolume } from '../../src/joint/piece.ts';
import { solidJoin } from '../../src/joint/solid-join.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { kernelJoin } from '../../src/kernel/solid.ts';
import { TOLERANCES } from '../../src/math/tolerances.ts';
import { meshOf, type Part } from '../../src/mesh/part/part.ts';
import { lumpySphere } from '../support/figures.ts';
import { other, randomJoint, type Side } from '../support/random-joints.ts';
import { cutFigure, type Fixture, isSound, jointsAt, pegOf, volumeOf } from '../support/seam-fixture.ts';
import { isWholeSweep, sweep } from '../support/sweep.ts';
import { symmetricDifference } from '../support/symmetric-difference.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

function onWhole(part: Part, joint: Piece): Part {
  const depth = joint.of.does === 'add' ? TOLERANCES.pegRoot : TOLERANCES.root;
  return kernelJoin(kernel, part, [{ of: joint.of, body: closedBody(joint, depth) }]);
}

/** Corners of every skin triangle, as the bits of their coordinates. */
function skinKeys(part: Part): Set<string> {
  const keys = new Set<string>();
  const { positions, triangles } = meshOf(part, ({ kind }) => kind === 'skin');
  for (let i = 0; i < triangles.length; i += 3) {
    const corners = [0, 1, 2].map((k) =>
      positions.subarray(triangles[i + k] * 3, triangles[i + k] * 3 + 3).join(),
    );
    keys.add(corners.sort().join(' '));
  }
  return keys;
}

describe('a joint by the kernel, on the collar', () => {
  it.each([5001, 5101, 5201, 5301].map((from) => sweep(from, 100, 12)))(
    'gives what the kernel gives on the whole part, wherever the peg stands, seeds from %i',
    async (...seeds) => {
      const ways = { collar: 0, kernel: 0 };
      let notLocal = 0;
      for (const seed of seeds) {
        const made = randomJoint(kernel, seed);
        if (!made) continue;
        for (const role of ['peg', 'socket'] as const) {
          const which: Side = role === 'peg' ? made.pegOn : other(made.pegOn);
          const { part, face } = made.fixture[which];
          const joint = made.joints[role];
          if (!seatingOf(part, face.loops, joint).local) notLocal++;
          const mine = await solidJoin(onlyHere(kernel), part, made.fixture.cut.facets[0].frame, which, [
            joint,
          ]);
          const theirs = onWhole(part, joint);
          ways[mine.way]++;
          const title = `seed ${seed}, ${role} on the ${which}`;
          expect(isSound(mine.part), `${title}: closed`).toBe(true);
          const size = volumeOf(theirs);
          expect(Math.abs(volumeOf(mine.part) - size), `${title}: volume`).toBeLessThan(1e-6 * size);
          // It takes most of the time.
          if (!isWholeSweep && seed % 4 !== 1) continue;
          const { onlyA, onlyB } = symmetricDifference(kernel, meshOf(mine.part), meshOf(theirs));
          expect(onlyA + onlyB, `${title}: symmetric difference`).toBeLessThan(1e-4 * pieceVolume(joint));
        }
      }
      expect(ways.collar).toBeGreaterThan(seeds.length);
      expect(notLocal).toBeGreaterThan(seeds.length / 5);
    },
    120_000,
  );

  it('keeps every skin triangle that its body does not meet, bit for bit', async () => {
    const fixture = cutFigure(kernel, lumpySphere(5, 15), [0.2, 0.3, 1], 1) as Fixture;
    const { part } = fixture.front;
    const { socket } = jointsAt(fixture.cut, [11, 0], pegOf({ widthMm: 6 }));
    const { way, part: done } = await solidJoin(
      onlyHere(kernel),
      part,
      fixture.cut.facets[0].frame,
      'front',
      [socket],
    );
    expect(way).toBe('collar');
    const before = skinKeys(part);
    const after = skinKeys(done);
    const lost = [...before].filter((key) => !after.has(key));
    expect(lost.length).toBeGreaterThan(0);
    expect(lost.length).toBeLessThan(60);
    expect(before.size).toBeGreaterThan(600);
  });

  it('keeps triangles whose neighbours lie in one plane, which a boolean may simplify', async () => {
    const fixture = cutFigure(kernel, lumpySphere(3, 15, 3, 0), [0, 0, 1], 0) as Fixture;
    const { peg } = jointsAt(fixture.cut, [0, 0], pegOf());
    const { part: done } = await solidJoin(
      onlyHere(kernel),
      fixture.back.part,
      fixture.cut.facets[0].frame,
      'back',
      [peg],
    );
    const after = skinKeys(done);
    expect([...skinKeys(fixture.back.part)].filter((key) => !after.has(key))).toEqual([]);
  });

  it('goes back on where sockets run into each other with their ends in one plane', async () => {
    const fixture = cutFigure(kernel, lumpySphere(5, 15), [0.2, 0.3, 1], 1) as Fixture;
    const { part } = fixture.front;
    for (let shift = 0.5; shift < 4.5; shift += 0.1) {
      const sockets = [0, shift].map((x) => jointsAt(fixture.cut, [x, 0], pegOf()).socket);
      const bodies = sockets.map((joint) => ({ of: joint.of, body: closedBody(joint, TOLERANCES.root) }));
      const mine = await solidJoin(onlyHere(kernel), part, fixture.cut.facets[0].frame, 'front', sockets);
      expect(mine.way, `shift ${shift}`).toBe('collar');
      expect(isSound(mine.part), `shift ${shift}: closed`).toBe(true);
      const size = volumeOf(kernelJoin(kernel, part, bodies));
      expect(Math.abs(volumeOf(mine.part) - size), `shift ${shift}: volume`).toBeLessThan(1e-6 * size);
    }
  });

  it('leaves a part that a joint reaches all of to the kernel', async () => {
    const fixture = cutFigure(kernel, lumpySphere(3, 4), [0, 0, 1], 0) as Fixture;
    const { part } = fixture.front;
    const { socket } = jointsAt(fixture.cut, [0, 0], pegOf({ widthMm: 6, heightMm: 6, spinDeg: 45 }));
    const mine = await solidJoin(onlyHere(kernel), part, fixture.cut.facets[0].frame, 'front', [socket]);
    expect(mine.way).toBe('kernel');
    expect(volumeOf(mine.part)).toBeCloseTo(volumeOf(onWhole(part, socket)), 9);
    expect(volumeOf(mine.part)).toBeLessThan(volumeOf(part) - 20);
  });
});
