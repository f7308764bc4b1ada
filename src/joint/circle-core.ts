import { TOLERANCES } from '../math/tolerances.ts';
import type { Vec2 } from '../math/vec3.ts';
import type { CoreSection } from './parallel-body.ts';

/** A round core of this radius (mm), with corners enough for a body that lies `outset` mm off it. */
export function circleCore(radius: number, outset: number): CoreSection {
  const count = cornersFor(radius + outset);
  const corners = Array.from({ length: count }, (_, i): Vec2 => {
    const angle = (2 * Math.PI * i) / count;
    return [radius * Math.cos(angle), radius * Math.sin(angle)];
  });
  return { corners, isRound: true };
}

/** Corners of a polygon in a circle of this radius (mm) whose sides lie within the chord tolerance of it: some fours. */
const cornersFor = (radius: number): number =>
  4 * Math.ceil(Math.PI / Math.acos(1 - Math.min(1, TOLERANCES.jointChord / radius)) / 4);
