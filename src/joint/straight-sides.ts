import type { Vec2 } from '../math/vec3.ts';

/** A side of an outline, and how its length goes as the outline is moved in and then grown by a ball. */
export interface StraightSide {
  lengthMm: number;
  /** What it loses by each millimetre in. */
  perIn: number;
  /** What it loses by each millimetre of growth: where it lies in, grown sides meet before the corner that they grew from. */
  perGrown: number;
}

/** The sides of a simple outline, corners counter-clockwise. */
export function straightSides(corners: readonly Vec2[]): StraightSide[] {
  const n = corners.length;
  const halves = corners.map((at, k) => halfTurn(corners[(k + n - 1) % n], at, corners[(k + 1) % n]));
  return corners.map(([x, y], k) => {
    const [nx, ny] = corners[(k + 1) % n];
    const ends = [halves[k], halves[(k + 1) % n]];
    const lost = (of: readonly number[]) => of.reduce((sum, half) => sum + half, 0);
    return {
      lengthMm: Math.hypot(nx - x, ny - y),
      perIn: lost(ends),
      perGrown: -lost(ends.filter((half) => half < 0)),
    };
  });
}

/** What is left straight of the shortest of some sides, mm; less than nothing where edges that stand out run into such that lie in. */
export const leastStraight = (sides: readonly StraightSide[], inMm: number, grownMm: number): number =>
  Math.min(...sides.map((side) => side.lengthMm - side.perIn * inMm - side.perGrown * grownMm));

/** Tangent of half the turn at a corner: less than 0 where the outline lies in. */
function halfTurn(before: Vec2, [x, y]: Vec2, after: Vec2): number {
  const [ux, uy, vx, vy] = [x - before[0], y - before[1], after[0] - x, after[1] - y];
  return (ux * vy - uy * vx) / (Math.hypot(ux, uy) * Math.hypot(vx, vy) + ux * vx + uy * vy);
}
