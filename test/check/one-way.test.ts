import { describe, expect, it } from 'vitest';
import { isOneWay, type StandingJoint } from '../../src/check/one-way.ts';
import { outlinesOnFace } from '../../src/joint/face-outlines.ts';
import { jointKind } from '../../src/joint/kinds.ts';
import type { Sizes } from '../../src/model/joint.ts';

/** A joint before it stands on a face: its kind, its place and its sizes, mm and degrees. */
interface Laid {
  at: readonly [number, number];
  kind: string;
  spinDeg: number;
  sizes: Sizes;
}

const peg = (x: number, y: number, widthMm: number, heightMm = widthMm, spinDeg = 0): Laid => ({
  at: [x, y],
  kind: 'taper',
  spinDeg,
  sizes: { widthMm, heightMm },
});
const round = (x: number, y: number, diameterMm: number): Laid => ({
  at: [x, y],
  kind: 'round',
  spinDeg: 0,
  sizes: { diameterMm },
});

/** The joints as they stand on their face, with the engine's own outlines. */
const standing = (pegs: readonly Laid[], edgeRadiusMm: number): StandingJoint[] =>
  pegs.map(({ at, kind, spinDeg, sizes }) => {
    const sideGapMm = 0.12;
    const gaps = { sideGapMm, endGapMm: 0.4 };
    const shape = { kind, lengthMm: 5, draftDeg: 0, edgeRadiusMm, spinDeg, ...gaps, ...sizes };
    const [added, taken] = outlinesOnFace(shape, at, 'back');
    const { turnsDeg } = jointKind(kind);
    return { at, spinDeg, turnsDeg, peg: added.outline, socket: taken.outline, sideGapMm };
  });

/** The same pegs on a face turned and moved: nothing about them has changed. */
function carried(pegs: readonly Laid[], deg: number, dx: number, dy: number): Laid[] {
  const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
  return pegs.map((p) => ({
    ...p,
    at: [c * p.at[0] - s * p.at[1] + dx, s * p.at[0] + c * p.at[1] + dy],
    spinDeg: p.spinDeg + deg,
  }));
}

const triangle = (r: number, degrees: number[]) =>
  degrees.map((d) => peg(r * Math.cos((d * Math.PI) / 180), r * Math.sin((d * Math.PI) / 180), 4, 4, d));

const roundAt = (r: number, d: number) =>
  round(r * Math.cos((d * Math.PI) / 180), r * Math.sin((d * Math.PI) / 180), 4);

const cases: [string, Laid[], boolean][] = [
  ['one square peg goes in four ways', [peg(3, 2, 5)], false],
  ['one 6 × 4 peg goes in after half a turn', [peg(3, 2, 6, 4)], false],
  ['two equal pegs swap', [peg(-5, 0, 5), peg(5, 0, 5)], false],
  [
    'two equal pegs swap, however each is spun by quarters',
    [peg(-5, 0, 5, 5, 90), peg(5, 3, 5, 5, 0)],
    false,
  ],
  ['of 6 × 6 and 5 × 5 the large one has one socket', [peg(-5, 0, 6), peg(5, 0, 5)], true],
  ['6.1 and 6 wide fit each other within the gap', [peg(-5, 0, 6.1), peg(5, 0, 6)], false],
  ['two equal pegs, one spun by 45°, do not swap', [peg(-5, 0, 5), peg(5, 0, 5, 5, 45)], true],
  ['three equal pegs at different distances', [peg(0, 0, 4), peg(10, 0, 4), peg(3, 7, 4)], true],
  ['three equal pegs evenly around a circle turn by thirds', triangle(8, [0, 120, 240]), false],
  ['three pegs around a circle in uneven steps', triangle(8, [0, 100, 240]), true],
  ['three pegs evenly around, one wider', [peg(8, 0, 6), ...triangle(8, [120, 240])], true],
  ['four equal pegs in a square', [peg(5, 5, 4), peg(-5, 5, 4), peg(-5, -5, 4), peg(5, -5, 4)], false],
  ['no peg holds nothing', [], false],
  ['one round peg turns freely', [round(3, 2, 5)], false],
  ['two round pegs of unlike size', [round(-5, 0, 6), round(5, 0, 5)], true],
  ['two equal round pegs swap', [round(-5, 0, 5), round(5, 3, 5)], false],
  ['round pegs of 6.1 and 6 fit each other within the gap', [round(-5, 0, 6.1), round(5, 0, 6)], false],
  ['a round peg and a square one as wide', [round(-5, 0, 5), peg(5, 0, 5)], true],
  [
    'a round peg in the middle between two equal square ones',
    [round(0, 0, 5), peg(-8, 0, 4), peg(8, 0, 4)],
    false,
  ],
  [
    'a round peg beside the middle of two equal square ones',
    [round(1, 2, 5), peg(-8, 0, 4), peg(8, 0, 4)],
    true,
  ],
  ['three equal round pegs evenly around', [0, 120, 240].map((d) => roundAt(8, d)), false],
  ['three round pegs around a circle in uneven steps', [0, 100, 240].map((d) => roundAt(8, d)), true],
  ['three equal round pegs at different distances', [round(0, 0, 4), round(10, 0, 4), round(3, 7, 4)], true],
];

describe('one way', () => {
  it.each(cases)('%s', (_, pegs, expected) => {
    for (const edgeRadiusMm of [0, 0.5]) {
      expect(isOneWay(standing(pegs, edgeRadiusMm))).toBe(expected);
      expect(isOneWay(standing([...pegs].reverse(), edgeRadiusMm))).toBe(expected);
      expect(isOneWay(standing(carried(pegs, 33, -7, 12), edgeRadiusMm))).toBe(expected);
    }
  });
});
