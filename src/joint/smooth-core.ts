import { TOLERANCES } from '../math/tolerances.ts';
import type { Vec2 } from '../math/vec3.ts';
import type { CoreSection } from './parallel-body.ts';

/** A piece of a circle, counter-clockwise: mm, and radians from the x axis. */
export interface Arc {
  middle: Vec2;
  radius: number;
  from: number;
  to: number;
}

/**
 * The section whose outline goes over from each arc into the next without a corner, straight where they are apart: each
 * ends in the direction in which the next begins. Grown by `outset` (mm) its sides are within the chord tolerance still.
 */
export function smoothCore(arcs: readonly Arc[], outset: number): CoreSection {
  const corners: Vec2[] = [];
  const normals: Vec2[] = [];
  for (const { middle, radius, from, to } of arcs) {
    const steps = stepsAlong(radius + outset, to - from);
    for (let i = 0; i <= steps; i++) {
      const angle = from + ((to - from) * i) / steps;
      const normal: Vec2 = [Math.cos(angle), Math.sin(angle)];
      corners.push([middle[0] + radius * normal[0], middle[1] + radius * normal[1]]);
      normals.push(normal);
    }
  }
  const isNew = corners.map(
    (corner, i) => !isNear(corner, corners[(i + corners.length - 1) % corners.length]),
  );
  return { corners: corners.filter((_, i) => isNew[i]), normals: normals.filter((_, i) => isNew[i]) };
}

/** Steps along an arc of this radius (mm) and angle whose chords lie within the tolerance of it. */
const stepsAlong = (radius: number, angle: number): number =>
  Math.max(2, Math.ceil(angle / (2 * Math.acos(1 - Math.min(1, TOLERANCES.jointChord / radius)))));

/** Points nearer than this to each other are one, mm. */
const ONE_POINT = 1e-6;

const isNear = (a: Vec2, b: Vec2): boolean => Math.hypot(a[0] - b[0], a[1] - b[1]) < ONE_POINT;
