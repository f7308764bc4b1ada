import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  anglesOf,
  compose,
  NO_TURN,
  type Quaternion,
  turnAbout,
  turnBetween,
  turned,
  turnedVec,
  turnOnto,
} from '../../src/math/quaternion.ts';

const s = Math.SQRT1_2;

describe('turning by a quaternion', () => {
  // A turn by angle a about a unit axis u is (u sin a/2, cos a/2): Shoemake, SIGGRAPH 1985.
  const CASES: [what: string, turn: Quaternion, becomes: number[]][] = [
    ['not at all', [0, 0, 0, 1], [1, 2, 3]],
    ['a quarter about x: y goes to z', [s, 0, 0, s], [1, -3, 2]],
    ['a quarter about y: z goes to x', [0, s, 0, s], [3, 2, -1]],
    ['a quarter about z: x goes to y', [0, 0, s, s], [-2, 1, 3]],
    ['half about z', [0, 0, 1, 0], [-1, -2, 3]],
    ['a third about the space diagonal', [0.5, 0.5, 0.5, 0.5], [3, 1, 2]],
  ];
  for (const [what, turn, becomes] of CASES) {
    it(what, () => {
      const points = turned([1, 2, 3], turn);
      for (const k of [0, 1, 2]) expect(points[k]).toBeCloseTo(becomes[k], 14);
    });
  }

  it('keeps lengths and hands, and is undone by its conjugate, seed 71', () => {
    const part = fc.double({ min: -1, max: 1, noNaN: true });
    fc.assert(
      fc.property(fc.tuple(part, part, part, part), ([x, y, z, w]) => {
        fc.pre(Math.hypot(x, y, z, w) > 0.1);
        const axes = turned([1, 0, 0, 0, 1, 0, 0, 0, 1], [x, y, z, w]);
        const [a, b, c] = [axes.subarray(0, 3), axes.subarray(3, 6), axes.subarray(6, 9)];
        for (const axis of [a, b, c]) expect(Math.hypot(...axis)).toBeCloseTo(1, 12);
        const handed = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
        for (const k of [0, 1, 2]) expect(handed[k]).toBeCloseTo(c[k], 12);
        const back = turned(axes, [-x, -y, -z, w]);
        for (const i of back.keys()) expect(back[i]).toBeCloseTo(i % 4 === 0 ? 1 : 0, 12);
      }),
      { seed: 71, numRuns: 200 },
    );
  });
});

describe('turns one after the other', () => {
  // Shoemake, SIGGRAPH 1985: the product of quaternions, the later turn at the left. From memory.
  it('make a third of a turn about a diagonal out of quarter turns about X and then Y', () => {
    const both = compose(turnAbout([1, 0, 0], 90), turnAbout([0, 1, 0], 90));
    [0.5, 0.5, -0.5, 0.5].forEach((c, k) => {
      expect(both[k]).toBeCloseTo(c, 15);
    });
  });

  it('come to none when the second is the first the other way', () => {
    const axis = [0.6, 0, 0.8] as const;
    const none = compose(turnAbout(axis, 250), turnAbout(axis, -250));
    NO_TURN.forEach((c, k) => {
      expect(none[k]).toBeCloseTo(c, 15);
    });
  });

  it('bring a direction to another by the shortest way', () => {
    const turn = turnBetween([1, 0, 0], [0, 1, 0]);
    turnAbout([0, 0, 1], 90).forEach((c, k) => {
      expect(turn[k]).toBeCloseTo(c, 15);
    });
    expect(turnedVec([0, 0, -1], turnBetween([0, 0, -1], [0, 0, 1]))[2]).toBeCloseTo(1, 15);
  });
});

describe('a turn onto axes', () => {
  const part = fc.integer({ min: -1024, max: 1024 }).map((n) => n / 1024);
  const turns = fc
    .tuple(part, part, part, part)
    .filter((q) => Math.hypot(...q) > 0.1)
    .map(([x, y, z, w]) => compose([x, y, z, w], NO_TURN));

  it('is that which was undone to get them, whichever of its numbers is the greatest, seed 72', () => {
    fc.assert(
      fc.property(turns, (turn) => {
        const back: Quaternion = [-turn[0], -turn[1], -turn[2], turn[3]];
        const [x, y, z] = [
          turnedVec([1, 0, 0], back),
          turnedVec([0, 1, 0], back),
          turnedVec([0, 0, 1], back),
        ];
        const onto = turnOnto([x, y, z]);
        const sign = onto[3] * turn[3] + onto[0] * turn[0] + onto[1] * turn[1] + onto[2] * turn[2];
        expect(Math.abs(sign)).toBeCloseTo(1, 12);
      }),
      { seed: 72, numRuns: 500 },
    );
  });

  it('is made by its angles about x, then y, then z, seed 73', () => {
    const upright = [turnAbout([0, 1, 0], 90), compose(turnAbout([1, 0, 0], 33), turnAbout([0, 1, 0], -90))];
    fc.assert(
      fc.property(fc.oneof(turns, fc.constantFrom(...upright)), (turn) => {
        const [x, y, z] = anglesOf(turn);
        const about = compose(
          compose(turnAbout([1, 0, 0], x), turnAbout([0, 1, 0], y)),
          turnAbout([0, 0, 1], z),
        );
        for (const p of [
          [1, 0, 0],
          [0, 1, 0],
        ] as const) {
          const [a, b] = [turnedVec(p, turn), turnedVec(p, about)];
          for (const k of [0, 1, 2]) expect(a[k]).toBeCloseTo(b[k], 6);
        }
      }),
      { seed: 73, numRuns: 500 },
    );
  });
});
