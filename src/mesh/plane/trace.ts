import type { Plane } from '../../math/plane.ts';
import type { Vertices } from '../part/vertices.ts';
import { type Crossing, followPlane, type MixedTriangles } from './crossing.ts';
import { sidesOf } from './sides.ts';

/**
 * A crossing with all that a split needs. Cut vertices are made once per mesh edge and
 * shared by both sides, so the halves meet exactly.
 */
export interface Trace extends Crossing {
  /** Per mesh vertex: 1 in front, −1 behind, 0 on the plane. */
  side: Int8Array;
  /** What each run of triangles holds. */
  runs: readonly TracedRun[];
  /** The cut vertex of a crossed edge, by its two mesh vertices in any order. */
  cutVertex(a: number, b: number): number;
}

export interface TracedRun extends MixedTriangles {
  /** Triangles wholly in front and wholly behind, no corner on the plane. */
  frontCount: number;
  backCount: number;
}

/** Follows a plane through a closed mesh given as runs of triangles over one set of vertices, ready to split it. */
export function tracePlane(vertices: Vertices, runs: readonly Uint32Array[], plane: Plane): Trace {
  const side = sidesOf(vertices, plane);
  const traced = runs.map((triangles) => sortRun(triangles, side));
  const { crossing, cuts, idOf } = followPlane(vertices, traced, plane);
  return { ...crossing, side, runs: traced, cutVertex: (a, b) => idOf(cuts.on(a, b)) };
}

function sortRun(triangles: Uint32Array, side: Int8Array): TracedRun {
  const mixed: number[] = [];
  let balance = 0;
  for (let i = 0; i < triangles.length; i += 3) {
    const sum = side[triangles[i]] + side[triangles[i + 1]] + side[triangles[i + 2]];
    if (sum === 3 || sum === -3) balance += sum;
    else mixed.push(i);
  }
  const whole = triangles.length / 3 - mixed.length;
  const frontCount = (whole + balance / 3) / 2;
  const at = Uint32Array.from(mixed);
  const sides = new Int8Array(at.length * 3);
  for (let m = 0; m < sides.length; m++) sides[m] = side[triangles[at[(m / 3) | 0] + (m % 3)]];
  return { triangles, at, sides, frontCount, backCount: whole - frontCount };
}
