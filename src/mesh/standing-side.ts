import { cross, dot, length, normalize, sub, type Vec3 } from '../math/vec3.ts';
import { boundsOf } from './measure.ts';
import type { Mesh } from './mesh.ts';

/** Corners this share of the hull's diagonal off a side's plane still lie on it: a base that was sculpted is never quite flat. */
const FLAT_SHARE = 1e-3;

/** A side on which the figure bears being tipped this far (its angle in radians) is one to stand on: 5°. */
const STEADY = (5 * Math.PI) / 180;

const DOWN: Vec3 = [0, 0, -1];

/**
 * The side of a convex hull for a figure to stand on: of the flat sides that its weight keeps it on, the one nearest to
 * what is down now; of those that it would easily be tipped off, the steadiest.
 * @param hull closed, convex, wound outward; mm.
 * @param weight centre of mass, within the hull.
 * @returns the side's outward unit normal, null where it stands on none.
 */
export function standingSide(hull: Mesh, weight: Vec3): Vec3 | null {
  const { min, max } = boundsOf(hull);
  const slack = FLAT_SHARE * length(sub(max, min));
  const normals = [...normalsOf(hull)].sort((a, b) => dot(b, DOWN) - dot(a, DOWN));
  let steadiest: Vec3 | null = null;
  let most = 0;
  for (const normal of normals) {
    const angle = tipAngle(cornersOn(hull, normal, slack), normal, weight);
    if (angle >= STEADY) return normal;
    if (angle > most) [steadiest, most] = [normal, angle];
  }
  return steadiest;
}

/** Unit normals of the hull's triangles that have an area. */
function* normalsOf({ positions: p, triangles: t }: Mesh): Generator<Vec3> {
  const at = (v: number): Vec3 => [p[v * 3], p[v * 3 + 1], p[v * 3 + 2]];
  for (let i = 0; i < t.length; i += 3) {
    const [a, b, c] = [at(t[i]), at(t[i + 1]), at(t[i + 2])];
    const normal = cross(sub(b, a), sub(c, a));
    if (length(normal) > 0) yield normalize(normal);
  }
}

/** Corners within `slack` of the plane that touches the hull from outside, mm. */
function cornersOn({ positions: p }: Mesh, [x, y, z]: Vec3, slack: number): Vec3[] {
  let farthest = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < p.length; i += 3) {
    farthest = Math.max(farthest, x * p[i] + y * p[i + 1] + z * p[i + 2]);
  }
  const corners: Vec3[] = [];
  for (let i = 0; i < p.length; i += 3) {
    if (x * p[i] + y * p[i + 1] + z * p[i + 2] >= farthest - slack) corners.push([p[i], p[i + 1], p[i + 2]]);
  }
  return corners;
}

/**
 * How far a figure may be tipped before its weight passes over the nearest edge of what it stands on, radians;
 * 0 where its weight is not over it.
 */
function tipAngle(corners: readonly Vec3[], normal: Vec3, weight: Vec3): number {
  const ring = ringAround(corners, normal);
  if (ring.length < 3) return 0;
  const height = dot(normal, sub(ring[0], weight));
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < ring.length; i++) {
    const edge = sub(ring[(i + 1) % ring.length], ring[i]);
    // Inward, in the plane: the ring runs counter-clockwise about the normal.
    const inward = normalize(cross(normal, edge));
    least = Math.min(least, dot(inward, sub(weight, ring[i])));
  }
  return Math.max(0, Math.atan2(least, height));
}

/** The convex ring around points of a plane, counter-clockwise about its normal (Andrew's monotone chain, 1979). */
function ringAround(points: readonly Vec3[], normal: Vec3): Vec3[] {
  const u = normalize(cross(normal, Math.abs(normal[0]) < 0.9 ? [1, 0, 0] : [0, 1, 0]));
  const v = cross(normal, u);
  const sorted = [...points].sort((a, b) => dot(a, u) - dot(b, u) || dot(a, v) - dot(b, v));
  const half = (along: readonly Vec3[]): Vec3[] => {
    const kept: Vec3[] = [];
    for (const point of along) {
      while (kept.length > 1 && turnsRight(kept.at(-2)!, kept.at(-1)!, point, normal)) kept.pop();
      kept.push(point);
    }
    return kept.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.reverse())];
}

const turnsRight = (a: Vec3, b: Vec3, c: Vec3, normal: Vec3): boolean =>
  dot(normal, cross(sub(b, a), sub(c, b))) <= 0;
