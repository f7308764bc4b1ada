import { describe, expect, it } from 'vitest';
import { isOneWay, type SeatedPeg } from '../../src/check/one-way.ts';

const peg = (x: number, y: number, widthMm: number, heightMm = widthMm, spinDeg = 0): SeatedPeg => ({
  at: [x, y],
  widthMm,
  heightMm,
  spinDeg,
  sideGapMm: 0.12,
});

/** The same pegs on a face turned and moved: nothing about them has changed. */
function carried(pegs: readonly SeatedPeg[], deg: number, dx: number, dy: number): SeatedPeg[] {
  const [c, s] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
  return pegs.map((p) => ({
    ...p,
    at: [c * p.at[0] - s * p.at[1] + dx, s * p.at[0] + c * p.at[1] + dy],
    spinDeg: p.spinDeg + deg,
  }));
}

const triangle = (r: number, degrees: number[]) =>
  degrees.map((d) => peg(r * Math.cos((d * Math.PI) / 180), r * Math.sin((d * Math.PI) / 180), 4, 4, d));

const cases: [string, SeatedPeg[], boolean][] = [
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
];

describe('one way', () => {
  it.each(cases)('%s', (_, pegs, expected) => {
    expect(isOneWay(pegs)).toBe(expected);
    expect(isOneWay([...pegs].reverse())).toBe(expected);
    expect(isOneWay(carried(pegs, 33, -7, 12))).toBe(expected);
  });
});
