import type { Plane } from '../math/plane.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import { dot, type Vec2, type Vec3 } from '../math/vec3.ts';

/**
 * The parallel body of a tapered convex core: K ⊕ B(ρ). A peg and its socket grow the
 * same core by different radii, so their surfaces are parallel and the gap is even,
 * edges included (Steiner's construction; Gruber, *Convex and Discrete Geometry*, 2007, §6).
 *
 * Local frame: z along the joint's axis, the seam face at z = 0. All lengths mm.
 */
export interface BodySpec {
  core: CoreSection;
  /** Taper per side of the core's planes, radians. */
  draft: number;
  /** Height of the core's top. */
  coreTop: number;
  /** ρ, what the core is grown by. */
  radius: number;
  /** Height where the body is cut off, open: at or below the face, or above it for a hollow. */
  bottom: number;
}

/** The section of a core at z = 0. */
export interface CoreSection {
  /** Counter-clockwise, convex. */
  corners: readonly Vec2[];
  /** True where they stand for the circle about the axis that they lie on: the core is a cone, and has no edges up its side. */
  isRound: boolean;
}

/** An open surface: the rim is its only border. */
export interface JointSurface {
  /** x, y, z per vertex. */
  positions: Float64Array;
  /** Counter-clockwise seen from outside the body. */
  triangles: Uint32Array;
  /** Vertices around the cut at `bottom`, counter-clockwise seen from the tip. They come first: 0, 1, 2, … */
  rimCount: number;
}

/**
 * Facets of K ⊕ B(ρ) above `bottom`. Vertices lie on the true surface, and no facet is
 * farther from it than the chord tolerance. ρ = 0 gives the sharp core itself.
 */
export function parallelBody(spec: BodySpec): JointSurface {
  const columns = columnsOf(spec);
  const n = columns.length;
  const rounded = spec.radius > 0;
  // Rows of points: the rim, the core's top, then the rounding up to the tip's flat, whose own row is the apexes.
  const steps = rounded ? stepsFor(spec.radius, Math.PI / 2 - spec.draft) : 1;
  const points: Vec3[] = columns.map((column) => rimPoint(spec, column));
  for (let step = 0; step < steps; step++) {
    for (const column of columns) points.push(roundedPoint(spec, column, step / steps));
  }
  const triangles: number[] = [];
  const rows = points.length / n;
  for (let row = 1; row < rows; row++) bandBetween(n, (row - 1) * n, (i) => row * n + i, triangles);
  const apex = (corner: number) => (rounded ? rows * n + corner : n + corner);
  if (rounded) {
    for (const corner of spec.core.corners.keys()) points.push(apexPoint(spec, corner));
    bandBetween(n, (rows - 1) * n, (i) => apex(columns[i].corner), triangles);
  }
  for (let k = 2; k < spec.core.corners.length; k++) triangles.push(apex(0), apex(k - 1), apex(k));
  return {
    positions: Float64Array.from(points.flat()),
    triangles: Uint32Array.from(triangles),
    rimCount: n,
  };
}

/** The surface run on, or cut short, to a plane a little off its rim's and leaning little: each rim point slides along its own line up the side. */
export function withRimOn(surface: JointSurface, { normal, offset }: Plane): JointSurface {
  const positions = surface.positions.slice();
  for (let i = 0; i < surface.rimCount; i++) {
    const at = i * 3;
    // A column's next point stands as far on as the rim has points.
    const above = (surface.rimCount + i) * 3;
    const rim: Vec3 = [positions[at], positions[at + 1], positions[at + 2]];
    const along: Vec3 = [
      positions[above] - rim[0],
      positions[above + 1] - rim[1],
      positions[above + 2] - rim[2],
    ];
    const share = (offset - dot(normal, rim)) / dot(normal, along);
    for (let k = 0; k < 3; k++) positions[at + k] += share * along[k];
  }
  return { ...surface, positions };
}

/** Triangles between a row of `n` points from `low` on and the row above it; those with two equal corners are left out. */
function bandBetween(n: number, low: number, above: (column: number) => number, triangles: number[]): void {
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    const [a, b] = [above(i), above(j)];
    triangles.push(low + i, low + j, b);
    if (a !== b) triangles.push(low + i, b, a);
  }
}

/** A line up the body's side: the core corner it belongs to and the direction it is grown in. */
interface Column {
  corner: number;
  normal: Vec3;
}

/** One column a corner for a sharp or round body, else an arc of normals from one side's to the next's. */
function columnsOf({ core: { corners, isRound }, draft, radius }: BodySpec): Column[] {
  if (isRound) return corners.map((_, corner) => ({ corner, normal: radialNormal(corners[corner], draft) }));
  const normals = corners.map((_, k): Vec3 => {
    const [x, y] = sideDirection(corners, k);
    return [x * Math.cos(draft), y * Math.cos(draft), Math.sin(draft)];
  });
  return corners.flatMap((_, corner) => {
    const from = normals[(corner + corners.length - 1) % corners.length];
    const to = normals[corner];
    if (radius === 0) return [{ corner, normal: from }];
    const steps = stepsFor(radius, angleBetween(from, to));
    return Array.from({ length: steps + 1 }, (_, i) => ({ corner, normal: slerp(from, to, i / steps) }));
  });
}

/** The normal of a cone's side over a point of its circle. */
function radialNormal([x, y]: Vec2, draft: number): Vec3 {
  const l = Math.hypot(x, y);
  return [(x / l) * Math.cos(draft), (y / l) * Math.cos(draft), Math.sin(draft)];
}

/** Outward direction of the side that leaves corner `k`. */
function sideDirection(corners: readonly Vec2[], k: number): Vec2 {
  const [ax, ay] = corners[k];
  const [bx, by] = corners[(k + 1) % corners.length];
  const l = Math.hypot(bx - ax, by - ay);
  return [(by - ay) / l, (ax - bx) / l];
}

/** Where a core corner is at height z: its two sides, or the circle, have moved in by z tan(draft). */
export function coreCorner(spec: Pick<BodySpec, 'core' | 'draft'>, corner: number, z: number): Vec2 {
  const { core, draft } = spec;
  const { corners } = core;
  if (core.isRound) {
    const [x, y] = corners[corner];
    const share = 1 - (z * Math.tan(draft)) / Math.hypot(x, y);
    return [x * share, y * share];
  }
  const [px, py] = sideDirection(corners, (corner + corners.length - 1) % corners.length);
  const [qx, qy] = sideDirection(corners, corner);
  // The mitre m has m·p = m·q = 1.
  const mitre = 1 + px * qx + py * qy;
  const inward = z * Math.tan(draft);
  const [x, y] = corners[corner];
  return [x - ((px + qx) / mitre) * inward, y - ((py + qy) / mitre) * inward];
}

/** The column's point at the bottom: the core point ρ n below or above it, moved out by ρ n. */
function rimPoint(spec: BodySpec, { corner, normal }: Column): Vec3 {
  const { radius, bottom } = spec;
  const [x, y] = coreCorner(spec, corner, bottom - radius * normal[2]);
  return [x + radius * normal[0], y + radius * normal[1], bottom];
}

/** A point of the rounding over the core's top, `share` of the way from the side's direction to straight up. */
function roundedPoint(spec: BodySpec, column: Column, share: number): Vec3 {
  const { radius, coreTop } = spec;
  const [x, y] = coreCorner(spec, column.corner, coreTop);
  const n = slerp(column.normal, [0, 0, 1], share);
  return [x + radius * n[0], y + radius * n[1], coreTop + radius * n[2]];
}

function apexPoint(spec: BodySpec, corner: number): Vec3 {
  const [x, y] = coreCorner(spec, corner, spec.coreTop);
  return [x, y, spec.coreTop + spec.radius];
}

/** Steps an arc needs so that no facet is farther from a ball of this radius than the chord tolerance. */
function stepsFor(radius: number, angle: number): number {
  const step = 2 * Math.acos(Math.max(0, 1 - TOLERANCES.jointChord / radius));
  return Math.max(2, Math.ceil(angle / step));
}

const angleBetween = (a: Vec3, b: Vec3): number =>
  Math.acos(Math.min(1, Math.max(-1, a[0] * b[0] + a[1] * b[1] + a[2] * b[2])));

/** Great-circle step between unit vectors. */
function slerp(a: Vec3, b: Vec3, t: number): Vec3 {
  const angle = angleBetween(a, b);
  const s = Math.sin(angle);
  if (s < 1e-12) return a;
  const p = Math.sin((1 - t) * angle) / s;
  const q = Math.sin(t * angle) / s;
  return [p * a[0] + q * b[0], p * a[1] + q * b[1], p * a[2] + q * b[2]];
}

/** The body's outline at the face, counter-clockwise seen from its tip, in its own axes: flat x, y pairs, mm. */
export function faceOutlineOf(spec: BodySpec): Float64Array {
  const atFace = { ...spec, bottom: 0 };
  return Float64Array.from(columnsOf(atFace).flatMap((column) => rimPoint(atFace, column).slice(0, 2)));
}

/** Radius of the circle about the axis that goes around the body's outline at the face, mm. */
export const reachAtFace = ({ core: { corners }, draft, radius }: BodySpec): number =>
  Math.max(...corners.map(([x, y]) => Math.hypot(x, y))) + radius / Math.cos(draft);

/** Height of the body's end over the face, mm. */
export const endOf = ({ coreTop, radius }: BodySpec): number => coreTop + radius;
