import { dot, sub, type Vec3 } from '../math/vec3.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { buildTriangleTree, cornersOf, type Nearest, nearestToPoint } from '../mesh/near/triangle-tree.ts';

/** Least, mean and greatest of a measured distance, mm. */
export interface Spread {
  min: number;
  mean: number;
  max: number;
}

/** Null where nothing of it is left to measure. */
export interface MeasuredGap {
  /** Over the sides, rounded corners between them included. */
  side: Spread | null;
  /** Over the flat of its tip. */
  end: Spread | null;
}

/** What stands in something, and what it stands in, as surfaces (mm). */
export interface Fit {
  peg: Mesh;
  socket: Mesh;
  /** A point at the level where both begin: on the seam plane, or on a hollow's floor. */
  foot: Vec3;
  /** Unit vector to the tip. */
  axis: Vec3;
  /** Radians. */
  draft: number;
  /** Sides of theirs lie in: there the peg's own edge is farther from the socket than the gap. */
  isConcave: boolean;
}

/**
 * Measures the gap between a peg's and a socket's finished surfaces: from samples (corners, middles of edges and centres
 * of triangles) to the nearest point of the other, no farther than `cap`. Sides are sampled on the peg; where they lie in,
 * on the socket, every point of which is as far from the peg as the gap, and samples of the peg count only where they are
 * nearer. Flats of the tips are sampled on both, for either
 * may be the narrower. The rounding between sides and tip counts as neither, for there the gap passes from one value to
 * the other. Of several fits that are one joint's all together; null where one of them has nothing left to measure.
 */
export function measureGap(fits: readonly Fit[], cap: number): MeasuredGap {
  const measured = fits.map((fit) => samplesIn(fit, cap));
  const spread = (which: 'side' | 'end') => {
    const each = measured.map((one) => one[which]);
    return each.some(({ length }) => length === 0) ? null : spreadOf(each.flat());
  };
  return { side: spread('side'), end: spread('end') };
}

function samplesIn(fit: Fit, cap: number): { side: number[]; end: number[] } {
  const { peg, foot, axis, draft, isConcave } = fit;
  const level = dot(foot, axis);
  const socket = withoutFloor(fit.socket, axis, level);
  const side: number[] = [];
  const end: number[] = [];
  if (peg.triangles.length === 0 || socket.triangles.length === 0) return { side, end };
  // Between two drafted sides the normal rises at most to sin(draft) √2.
  const sideLimit = Math.sin(draft) * Math.SQRT2 + 0.01;
  const isAsked = (rise: number) => Math.abs(rise) > FLAT || (isConcave && Math.abs(rise) <= sideLimit);
  const toPeg = buildTriangleTree(peg);
  for (const { p, rise } of samplesOf(socket, axis, isAsked)) {
    const found = nearestToPoint(toPeg, p, cap);
    if (Math.abs(rise) > FLAT) {
      if (found && isAlong(found, axis)) end.push(found.distance);
      continue;
    }
    // What is nearest to the socket's mouth would lie under the level, where there is no peg.
    if (dot(p, axis) - level < (found?.distance ?? 0) * sideLimit + ON_LEVEL) continue;
    if (!found || riseTo(found, axis) <= sideLimit) side.push(found?.distance ?? cap);
  }
  const known = side.reduce((least, mm) => Math.min(least, mm), cap);
  let nearest = known;
  const toSocket = buildTriangleTree(socket);
  for (const { p, rise } of samplesOf(peg, axis, (r) => Math.abs(r) <= sideLimit || r > FLAT)) {
    if (dot(p, axis) < level - ON_LEVEL) continue;
    const found = nearestToPoint(toSocket, p, cap);
    if (rise > FLAT) {
      if (!found || isAlong(found, axis)) end.push(found?.distance ?? cap);
    } else if (!found || riseTo(found, axis) <= sideLimit) {
      const mm = found?.distance ?? cap;
      if (isConcave) nearest = Math.min(nearest, mm);
      else side.push(mm);
    }
  }
  if (nearest < known) side.push(nearest);
  return { side, end };
}

/** What is no farther from the level where a fit begins lies on it, mm. */
const ON_LEVEL = 1e-3;

/** A socket but for what lies on the level where it begins: what stands in a hollow stands on that. */
function withoutFloor({ positions, triangles }: Mesh, axis: Vec3, level: number): Mesh {
  const isOn = (v: number) =>
    Math.abs(
      axis[0] * positions[v * 3] + axis[1] * positions[v * 3 + 1] + axis[2] * positions[v * 3 + 2] - level,
    ) <= ON_LEVEL;
  const walls = triangles.filter((_, i) => {
    const first = i - (i % 3);
    return !(isOn(triangles[first]) && isOn(triangles[first + 1]) && isOn(triangles[first + 2]));
  });
  return { positions, triangles: walls };
}

/** A direction rises more than this where it counts as along the axis. */
const FLAT = 1 - 1e-4;

/** How much of the way to the nearest point goes along the axis: over a rounding the gap is neither side nor end. */
const riseTo = ({ distance, onTree, onQuery }: Nearest, axis: Vec3): number =>
  distance === 0 ? 0 : Math.abs(dot(sub(onTree, onQuery), axis)) / distance;

/** The nearest point lies straight along the axis, or right here. */
const isAlong = (found: Nearest, axis: Vec3): boolean => found.distance === 0 || riseTo(found, axis) > FLAT;

function normalOf(c: Float64Array): Vec3 {
  const [ux, uy, uz] = [c[3] - c[0], c[4] - c[1], c[5] - c[2]];
  const [vx, vy, vz] = [c[6] - c[0], c[7] - c[1], c[8] - c[2]];
  const n: Vec3 = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  const l = Math.hypot(...n) || 1;
  return [n[0] / l, n[1] / l, n[2] / l];
}

/** Corners, middles of edges and centre of each triangle whose normal rises along the axis as `wanted`. */
function* samplesOf(
  mesh: Mesh,
  axis: Vec3,
  wanted: (rise: number) => boolean,
): Generator<{ p: Vec3; rise: number }> {
  const c = new Float64Array(9);
  const third = 1 / 3;
  const shares = [
    [1, 0, 0],
    [0.5, 0.5, 0],
    [0.5, 0, 0.5],
    [0, 0.5, 0.5],
    [third, third, third],
  ];
  for (let t = 0; t < mesh.triangles.length / 3; t++) {
    const rise = dot(normalOf(cornersOf(mesh, t, c)), axis);
    if (!wanted(rise)) continue;
    for (const [a, b, d] of shares) {
      const mix = (k: number) => a * c[k] + b * c[3 + k] + d * c[6 + k];
      yield { p: [mix(0), mix(1), mix(2)], rise };
    }
  }
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
