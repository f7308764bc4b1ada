import type { Vec3 } from '../../src/math/vec3.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import type { Point } from './independent-gap.ts';

/** Places about an axis, worked out by the tests themselves: how far along it from a foot, and how far off it, mm. */

const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];

export function aboutAxis(p: Point, foot: Point, axis: Point): { along: number; off: number } {
  const d: Point = [p[0] - foot[0], p[1] - foot[1], p[2] - foot[2]];
  const along = dot(d, axis);
  return { along, off: Math.sqrt(Math.max(0, dot(d, d) - along * along)) };
}

/** Corners that a mesh's triangles use, about an axis. */
export const cornersAbout = ({ positions, triangles }: Mesh, foot: Point, axis: Point) =>
  [...new Set(triangles)].map((v) =>
    aboutAxis([positions[v * 3], positions[v * 3 + 1], positions[v * 3 + 2]], foot, axis),
  );

/** Two unit vectors square to an axis and to each other. */
export function squareTo(axis: Point): [Point, Point] {
  const least = Math.abs(axis[0]) < 0.6 ? [1, 0, 0] : [0, 1, 0];
  const u = [0, 1, 2].map((k) => least[k] - axis[k] * dot(axis, least as unknown as Point));
  const l = Math.hypot(...u);
  const x = u.map((w) => w / l) as unknown as Point;
  const y: Point = [
    axis[1] * x[2] - axis[2] * x[1],
    axis[2] * x[0] - axis[0] * x[2],
    axis[0] * x[1] - axis[1] * x[0],
  ];
  return [x, y];
}

/** Points on a cylinder about an axis. */
export function ringPoint(foot: Point, axis: Point, radius: number, along: number, turn: number): Point {
  const [x, y] = squareTo(axis);
  const [c, s] = [radius * Math.cos(turn), radius * Math.sin(turn)];
  return [0, 1, 2].map((k) => foot[k] + along * axis[k] + c * x[k] + s * y[k]) as unknown as Point;
}

/**
 * Volume of a straight round body from one flat end to another whose edge is rounded, mm³: a cylinder, and a disc with a
 * quarter of a torus about it (Pappus).
 */
export function roundedVolume(radius: number, length: number, edge: number): number {
  const core = radius - edge;
  const end = core * core * edge + (Math.PI / 2) * core * edge * edge + (2 / 3) * edge ** 3;
  return Math.PI * (radius * radius * (length - edge) + end);
}

/** Corners of a mesh's triangles, nine numbers each. */
export const soupOf = ({ positions, triangles }: Mesh): Float32Array =>
  Float32Array.from([...triangles].flatMap((v) => [...positions.subarray(v * 3, v * 3 + 3)]));

/** A prism over a regular polygon in a circle about an axis, from one height to another: a disc as the tests have it. */
export function discAbout(foot: Point, axis: Point, radius: number, from: number, to: number): Mesh {
  const n = 96;
  const ring = (along: number) =>
    Array.from({ length: n }, (_, i) => ringPoint(foot, axis, radius, along, (2 * Math.PI * i) / n));
  const triangles: number[] = [];
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    triangles.push(i, j, n + j, i, n + j, n + i);
    if (i > 1) triangles.push(0, i, i - 1, n, n + i - 1, n + i);
  }
  return {
    positions: Float32Array.from([...ring(from), ...ring(to)].flat()),
    triangles: Uint32Array.from(triangles),
  };
}

/** A direction and a foot by a random source: level for a half of them, else leaning any way, the foot on that plane. */
export function throwPlane(random: () => number, isLevel: boolean): { normal: Vec3; offsetMm: number } {
  if (isLevel) return { normal: [0, 0, 1], offsetMm: 0 };
  for (;;) {
    const d = [0, 1, 2].map(() => 2 * random() - 1);
    const l = Math.hypot(...d);
    if (l > 0.2 && l < 1)
      return { normal: d.map((w) => w / l) as unknown as Vec3, offsetMm: 6 * (random() - 0.5) };
  }
}
