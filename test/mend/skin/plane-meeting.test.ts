import { describe, expect, it } from 'vitest';
import { PlaneMeeting } from '../../../src/mend/skin/plane-meeting.ts';

/** Where the planes through points (x, y, z, then the normal) meet, and the points' middle. */
function meet(...rows: number[][]): { at: number[]; middle: number[] } {
  const meeting = new PlaneMeeting();
  meeting.start();
  for (const [x, y, z, nx, ny, nz] of rows) meeting.add(x, y, z, nx, ny, nz);
  meeting.takeMiddle();
  const middle = [...meeting.at];
  meeting.meet();
  return { at: [...meeting.at], middle };
}

describe('where planes meet', () => {
  it('is the corner of a cube, from one point on each of its three sides', () => {
    const { at } = meet([1, 0.2, 0.3, 1, 0, 0], [0.1, 1, 0.4, 0, 1, 0], [0.5, 0.4, 1, 0, 0, 1]);
    for (const k of [0, 1, 2]) expect(at[k]).toBeCloseTo(1, 2);
  });

  it('is on the edge of two planes, at the middle along it', () => {
    const h = Math.SQRT1_2;
    const { at, middle } = meet([0.2, 0.2, 0, h, -h, 0], [0.8, 0.2, 1, h, h, 0]);
    // x = y and x + y = 1.
    expect(at[0]).toBeCloseTo(0.5, 3);
    expect(at[1]).toBeCloseTo(0.5, 3);
    expect(at[2]).toBeCloseTo(middle[2], 9);
  });

  it('is the middle where all lie in one plane, or in none that is known', () => {
    const flat = meet([0, 0, 2, 0, 0, 1], [1, 0, 2, 0, 0, -1], [0, 1, 2, 0, 0, 1]);
    const loose = meet([0, 0, 2, 0, 0, 0], [1, 0, 2, 0, 0, 0], [0, 1, 2, 0, 0, 0]);
    for (const { at, middle } of [flat, loose])
      for (const k of [0, 1, 2]) expect(at[k]).toBeCloseTo(middle[k], 12);
  });
});
