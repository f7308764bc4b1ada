import type { Polyhedron } from './simple-solids.ts';

/** A point of an outline: distance from the axis and height, mm. */
type OutlinePoint = readonly [radius: number, height: number];

/** A closed solid turned about z from an outline that begins and ends on the axis, material to its left going up; round sections of `around` corners. */
export function turnedSolid(outline: readonly OutlinePoint[], around: number): Polyhedron {
  const vertices: Polyhedron['vertices'] = [];
  const rings = outline.map(([radius, height]) => {
    const first = vertices.length;
    const count = radius === 0 ? 1 : around;
    for (let k = 0; k < count; k++) {
      const a = (2 * Math.PI * k) / around;
      vertices.push([radius * Math.cos(a), radius * Math.sin(a), height]);
    }
    return (k: number) => first + (k % count);
  });
  const faces: number[][] = [];
  for (let i = 0; i + 1 < rings.length; i++) {
    const [low, high] = [rings[i], rings[i + 1]];
    for (let k = 0; k < around; k++) {
      const corners = [low(k), low(k + 1), high(k + 1), high(k)];
      faces.push(corners.filter((v, n) => v !== corners[(n + 1) % 4]));
    }
  }
  return { vertices, faces };
}

/** An arc about (0, 0) of an outline in so many steps, its ends among the points; angles from the axis upward, degrees. */
export const arc = (radius: number, fromDeg: number, toDeg: number, steps: number): OutlinePoint[] =>
  Array.from({ length: steps + 1 }, (_, i) => {
    const a = ((fromDeg + ((toDeg - fromDeg) * i) / steps) * Math.PI) / 180;
    const r = radius * Math.sin(a);
    return [Math.abs(r) < 1e-9 ? 0 : r, radius * Math.cos(a)];
  });
