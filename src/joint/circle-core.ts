import { TOLERANCES } from '../math/tolerances.ts';
import type { Vec2 } from '../math/vec3.ts';
import type { CoreSection } from './parallel-body.ts';

/** A round core of this radius (mm), with corners enough for a body that lies `outset` mm off it. */
export function circleCore(radius: number, outset: number): CoreSection {
  const count = cornersFor(radius + outset);
  const normals = Array.from({ length: count }, (_, i): Vec2 => {
    const angle = (2 * Math.PI * i) / count;
    return [Math.cos(angle), Math.sin(angle)];
  });
  return { corners: normals.map(([x, y]): Vec2 => [radius * x, radius * y]), normals };
}

/** Corners of a polygon in a circle of this radius (mm) whose sides lie within the chord tolerance of it: some fours. */
const cornersFor = (radius: number): number =>
  4 * Math.ceil(Math.PI / Math.acos(1 - Math.min(1, TOLERANCES.jointChord / radius)) / 4);
