import { beforeAll, describe, expect, it } from 'vitest';
import { makeRandom } from '../../src/demo/prng.ts';
import { seatingOf } from '../../src/joint/host.ts';
import { loopGap } from '../../src/joint/loop-gap.ts';
import { type Kernel, loadKernel } from '../../src/kernel/load.ts';
import { TOLERANCES } from '../../src/math/tolerances.ts';
import type { Vec2, Vec3 } from '../../src/math/vec3.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import type { SettledJoint } from '../../src/model/joint.ts';
import { boxFrame, icosphere, insideOut, lumpySphere, ring } from '../support/figures.ts';
import { onSurface, trianglesOf } from '../support/independent-gap.ts';
import { cutFigure, type Fixture, jointsAt, pegOf } from '../support/seam-fixture.ts';
import { box, fanned, moved, together } from '../support/simple-solids.ts';

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const cutAt = (mesh: Mesh, normal: Vec3, offset: number): Fixture =>
  cutFigure(kernel, mesh, normal, offset) as Fixture;

/** How a peg on the back and its socket in the front sit. */
function seat(fixture: Fixture, at: Vec2, sizes: Partial<SettledJoint>) {
  const { peg, socket } = jointsAt(fixture.cut, at, pegOf(sizes));
  return {
    peg: seatingOf(fixture.back.part, fixture.back.face.loops, peg),
    socket: seatingOf(fixture.front.part, fixture.front.face.loops, socket),
  };
}

/** A block 40 × 30 × 40 cut at half height, and a small ball of air or of solid to put into it. */
const block = fanned(box([-20, -15, -20], [20, 15, 20]));
const bubble = (radius: number, at: [number, number, number]): Mesh => {
  const ball = icosphere(1);
  return moved({ positions: ball.positions.map((v) => v * radius), triangles: ball.triangles }, at);
};

describe('how a joint sits', () => {
  it('gives the walls of a peg in a block as they can be worked out', () => {
    // Straight peg 6 × 6 × 8 at (9, 2): the socket's outline ends at 12.12, the side of the block is at 20.
    const straight = seat(cutAt(block, [0, 0, 1], 0), [9, 2], {
      widthMm: 6,
      heightMm: 6,
      lengthMm: 8,
      draftDeg: 0,
    });
    expect(straight.socket.faceWall.mm).toBeCloseTo(20 - 12.12, 5);
    expect(straight.socket.wall.mm).toBeCloseTo(20 - 12.12, 5);
    expect(straight.socket.wall.at[0]).toBeCloseTo(20, 5);
    expect([straight.peg.local, straight.socket.local]).toEqual([true, true]);
    // 18 long with 0.4 at the end: 1.6 are left above the tip.
    const long = seat(cutAt(block, [0, 0, 1], 0), [0, 0], {
      widthMm: 6,
      heightMm: 6,
      lengthMm: 18,
      draftDeg: 2,
    });
    expect(long.socket.wall.mm).toBeCloseTo(1.6, 5);
    expect(long.socket.wall.at[2]).toBeCloseTo(20, 5);
    expect(long.socket.insideFace && long.socket.local).toBe(true);
  });

  it('finds the wall that trying all pairs of points finds, seed 51', () => {
    let compared = 0;
    for (let i = 1; i <= 14; i++) {
      const random = makeRandom(51_000 + i);
      const fixture = cutAt(lumpySphere(i, 14, 2, 0.3), [random() - 0.5, random() - 0.5, 1], 4 * random());
      const width = 3 + 3 * random();
      const at: Vec2 = [4 * (random() - 0.5), 4 * (random() - 0.5)];
      const { socket } = jointsAt(
        fixture.cut,
        at,
        pegOf({ widthMm: width, heightMm: width, lengthMm: 4 + 3 * random() }),
      );
      const seating = seatingOf(fixture.front.part, fixture.front.face.loops, socket);
      if (!seating.local) continue;
      const { part } = fixture.front;
      const skin = trianglesOf(part.positions, part.patches[0].triangles);
      const surface = trianglesOf(socket.surface.positions, socket.surface.triangles);
      const corners = [...new Map(surface.flat().map((p) => [p.join(), p])).values()];
      const sampled = Math.min(...corners.map((p) => onSurface(p, skin).distance));
      // Samples can only miss the least; nowhere is the surface farther than a facet from one of them.
      expect(seating.wall.mm, `seed ${51_000 + i}`).toBeLessThan(
        Math.min(sampled, seating.faceWall.mm) + 1e-5,
      );
      expect(seating.wall.mm, `seed ${51_000 + i}`).toBeGreaterThan(
        Math.min(sampled, seating.faceWall.mm) - 0.6,
      );
      expect(onSurface(seating.wall.at, skin).distance).toBeLessThan(1e-5);
      expect(onSurface(seating.wall.at, surface).distance).toBeCloseTo(seating.wall.mm, 4);
      compared++;
    }
    expect(compared).toBeGreaterThan(8);
  });

  it('refuses a rim over the outline, seed 52', () => {
    let refused = 0;
    for (let i = 1; i <= 40; i++) {
      const random = makeRandom(52_000 + i);
      const fixture = cutAt(lumpySphere(i, 14, 2, 0.3), [random() - 0.5, random() - 0.5, 1], 4 * random());
      const [loop] = fixture.front.face.loops;
      // Its foot nearer to a corner of the outline than the rim reaches.
      const k = Math.floor((random() * loop.length) / 2) * 2;
      const share = 0.9 + 0.1 * random();
      const at: Vec2 = [loop[k] * share, loop[k + 1] * share];
      const { peg, socket } = seat(fixture, at, { widthMm: 4, heightMm: 4, spinDeg: 360 * random() });
      expect([peg.local, socket.local, peg.insideFace, socket.insideFace], `seed ${52_000 + i}`).toEqual(
        Array(4).fill(false),
      );
      refused++;
    }
    expect(refused).toBe(40);
  });

  it('refuses a rim that comes nearer to the outline than the margin, and no sooner', () => {
    const fixture = cutAt(block, [0, 0, 1], 0);
    const gap = 0.12 / Math.cos((6 * Math.PI) / 180);
    for (const [space, local] of [
      [TOLERANCES.localMargin + 0.001, true],
      [TOLERANCES.localMargin - 0.001, false],
      [-0.001, false],
    ] as const) {
      expect(seat(fixture, [20 - 2 - gap - space, 0], {}).socket.local).toBe(local);
    }
  });

  it('refuses a rim around a hole, or around all of an island', () => {
    // A hole 1 wide through a frame, a peg over it; and a thin bar under a peg twice as wide.
    const pierced = cutAt(boxFrame(40, 1, 20), [0, 0, 1], 10);
    for (const spinDeg of [0, 20, 45]) {
      const { peg, socket } = seat(pierced, [0, 0], { widthMm: 5, heightMm: 5, spinDeg });
      expect([peg.insideFace, socket.insideFace, peg.local, socket.local]).toEqual(Array(4).fill(false));
    }
    const bar = cutAt(fanned(box([-1, -1, -20], [1, 1, 20])), [0, 0, 1], 0);
    const { peg, socket } = seat(bar, [0, 0], { widthMm: 5, heightMm: 5 });
    expect([peg.insideFace, socket.insideFace, peg.local, socket.local]).toEqual(Array(4).fill(false));
  });

  it('refuses a socket through the skin, seed 53', () => {
    for (let i = 1; i <= 20; i++) {
      const random = makeRandom(53_000 + i);
      // A ring cut level leaves half a tube 6 high; the socket is longer than that.
      const fixture = cutAt(ring(), [0, 0, 1], 0.5 * random());
      const around = 2 * Math.PI * random();
      const at: Vec2 = [14 * Math.cos(around), 14 * Math.sin(around)];
      const { peg, socket } = seat(fixture, at, { lengthMm: 5.7 + 4 * random(), spinDeg: 360 * random() });
      expect([socket.insideFace, socket.local, socket.wall.mm], `seed ${53_000 + i}`).toEqual([
        true,
        false,
        0,
      ]);
      // The peg itself stands in the open.
      expect(peg.local, `seed ${53_000 + i}`).toBe(true);
    }
  });

  it('leaves no wall to a hollow that the socket swallows without touching it, and takes one beside it, seed 54', () => {
    for (let i = 1; i <= 20; i++) {
      const random = makeRandom(54_000 + i);
      const inside: [number, number, number] = [
        1.2 * (random() - 0.5),
        1.2 * (random() - 0.5),
        2 + 2 * random(),
      ];
      const hollow = cutAt(together(block, insideOut(bubble(0.4 + 0.5 * random(), inside))), [0, 0, 1], 0);
      const sizes = { widthMm: 6, heightMm: 6, lengthMm: 6, spinDeg: 360 * random() };
      const over = seat(hollow, [0, 0], sizes);
      expect(over.socket.wall.mm, `seed ${54_000 + i}`).toBe(0);
      expect([over.socket.insideFace, over.socket.local, over.peg.local], `seed ${54_000 + i}`).toEqual([
        true,
        false,
        true,
      ]);
      expect(seat(hollow, [9, 0], sizes).socket.local, `seed ${54_000 + i}`).toBe(true);
    }
  });

  it('gives the least gap between a rim and loops, at corners of either', () => {
    const square = (r: number, x = 0): Float64Array =>
      Float64Array.of(x + r, r, x - r, r, x - r, -r, x + r, -r);
    expect(loopGap(square(1, 3), [square(10)])).toMatchObject({ mm: 6 });
    // A hole's corner points at the middle of the rim's side.
    const diamond = Float64Array.of(4, 0, 6, -2, 8, 0, 6, 2);
    expect(loopGap(square(1), [square(10), diamond])).toEqual({ mm: 3, from: [1, 0], to: [4, 0] });
  });
});
