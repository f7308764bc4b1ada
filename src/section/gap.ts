import { dot, type Vec3 } from '../math/vec3.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { buildTriangleTree, cornersOf, nearestToPoint } from '../mesh/triangle-tree.ts';

/** Least, mean and greatest of a measured distance, mm. */
export interface Spread {
  min: number;
  mean: number;
  max: number;
}

export interface MeasuredGap {
  /** Over the peg's sides, rounded corners between them included. */
  side: Spread;
  /** Over the flat of its tip. */
  end: Spread;
}

/**
 * Measures the gap between a peg's and a socket's finished surfaces: from samples on the
 * peg (corners, middles of edges and centres of its triangles) to the nearest point of
 * the socket. The rounding between sides and tip counts as neither, for there the gap
 * passes from one value to the other. Null when a surface is missing.
 *
 * `foot` is a point of the seam plane, `axis` the unit vector to the tip, `draft` in radians.
 */
export function measureGap(
  peg: Mesh,
  socket: Mesh,
  foot: Vec3,
  axis: Vec3,
  draft: number,
  cap: number,
): MeasuredGap | null {
  if (peg.triangles.length === 0 || socket.triangles.length === 0) return null;
  const tree = buildTriangleTree(socket);
  const side: number[] = [];
  const end: number[] = [];
  const corners = new Float64Array(9);
  // Between two drafted sides the normal rises at most to sin(draft) √2.
  const sideLimit = Math.sin(draft) * Math.SQRT2 + 0.01;
  for (let t = 0; t < peg.triangles.length / 3; t++) {
    cornersOf(peg, t, corners);
    const rise = dot(normalOf(corners), axis);
    const into = rise <= sideLimit ? side : rise > 1 - 1e-4 ? end : null;
    if (!into) continue;
    for (const p of samplesOf(corners)) {
      if (dot(p, axis) < dot(foot, axis) - 1e-3) continue;
      into.push(nearestToPoint(tree, p, cap)?.distance ?? cap);
    }
  }
  return side.length > 0 && end.length > 0 ? { side: spreadOf(side), end: spreadOf(end) } : null;
}

function normalOf(c: Float64Array): Vec3 {
  const [ux, uy, uz] = [c[3] - c[0], c[4] - c[1], c[5] - c[2]];
  const [vx, vy, vz] = [c[6] - c[0], c[7] - c[1], c[8] - c[2]];
  const n: Vec3 = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  const l = Math.hypot(...n) || 1;
  return [n[0] / l, n[1] / l, n[2] / l];
}

function samplesOf(c: Float64Array): Vec3[] {
  const mix = (a: number, b: number, d: number): Vec3 => [
    a * c[0] + b * c[3] + d * c[6],
    a * c[1] + b * c[4] + d * c[7],
    a * c[2] + b * c[5] + d * c[8],
  ];
  const third = 1 / 3;
  return [mix(1, 0, 0), mix(0.5, 0.5, 0), mix(0.5, 0, 0.5), mix(0, 0.5, 0.5), mix(third, third, third)];
}

function spreadOf(values: readonly number[]): Spread {
  let [min, max, sum] = [Infinity, -Infinity, 0];
  for (const v of values) {
    min = Math.min(min, v);
    max = Math.max(max, v);
    sum += v;
  }
  return { min, mean: sum / values.length, max };
}
