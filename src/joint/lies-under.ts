import type { JointSurface } from './parallel-body.ts';

/**
 * True where one of a triangle's corners (nine numbers, in the joint's own frame) lies within a joint's body, which begins
 * at a height of `floorMm`: at the face, or in it where it is a hollow.
 */
export const hasCornerWithin = (surface: JointSurface, corners: Float64Array, floorMm: number): boolean =>
  [0, 3, 6].some(
    (c) => corners[c + 2] > floorMm && liesUnder(surface, corners[c], corners[c + 1], corners[c + 2]),
  );

/**
 * True where a point lies under a joint's surface. No side leans outward on its way up, so that over any place of the
 * face there is one stretch of the body and one height at which it ends: that of the facet over the place.
 */
function liesUnder({ positions: p, triangles }: JointSurface, x: number, y: number, z: number): boolean {
  for (let i = 0; i < triangles.length; i += 3) {
    const [a, b, c] = [triangles[i] * 3, triangles[i + 1] * 3, triangles[i + 2] * 3];
    // Twice the areas of what the point makes with each side, seen from the tip: its shares of the corners.
    const ofA = (p[b] - x) * (p[c + 1] - y) - (p[c] - x) * (p[b + 1] - y);
    const ofB = (p[c] - x) * (p[a + 1] - y) - (p[a] - x) * (p[c + 1] - y);
    const ofC = (p[a] - x) * (p[b + 1] - y) - (p[b] - x) * (p[a + 1] - y);
    const whole = ofA + ofB + ofC;
    if (ofA < 0 || ofB < 0 || ofC < 0 || whole <= 0) continue;
    if (z * whole < ofA * p[a + 2] + ofB * p[b + 2] + ofC * p[c + 2]) return true;
  }
  return false;
}
