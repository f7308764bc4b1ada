import type { Plane } from '../math/plane.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import { dot, type Vec2, type Vec3 } from '../math/vec3.ts';
import { clipEars } from '../mesh/polygon/clip-ears.ts';

/**
 * The parallel body of a tapered core: K ⊕ B(ρ). A peg and its socket grow the same core by different radii: whatever is
 * ρ + g from the core is g from all that is within ρ of it, so that every point of the socket is as far from the peg as
 * asked, edges included (Steiner's construction; Gruber, *Convex and Discrete Geometry*, 2007, §6). The core may be
 * concave: edges that stand out are rounded, those that lie in stay sharp where the grown sides meet.
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
  /** Counter-clockwise; simple, and so as far as draft and radius move its sides (`room-to-move.ts`). */
  corners: readonly Vec2[];
  /** For each corner that stands for a smooth curve through it the outward unit normal there, null for a true one; left out: all are true. */
  normals?: readonly (Vec2 | null)[];
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
 * Facets of K ⊕ B(ρ) above `bottom`, none farther from the true surface than the chord tolerance. ρ = 0 gives the sharp
 * core itself.
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
  const firstApex = rounded ? rows * n : n;
  if (rounded) {
    for (const corner of spec.core.corners.keys()) points.push(apexPoint(spec, corner));
    bandBetween(n, (rows - 1) * n, (i) => firstApex + columns[i].corner, triangles);
  }
  for (const corner of Array.from(topOf(spec))) triangles.push(firstApex + corner);
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

/** Triangles over the core's top, by its corners. */
const topOf = (spec: BodySpec): ArrayLike<number> =>
  trianglesIn(
    spec.core,
    Float64Array.from(spec.core.corners.flatMap((_, k) => coreCorner(spec, k, spec.coreTop))),
  );

/** Triangles in a ring of flat x, y pairs that follows a core: a fan, or ears where the core is concave. */
export function trianglesIn(core: CoreSection, ring: Float64Array): ArrayLike<number> {
  if (isConcaveCore(core)) return clipEars(ring);
  return Array.from({ length: ring.length / 2 - 2 }, (_, k) => [0, k + 1, k + 2]).flat();
}

/** A line up the body's side: the core corner it belongs to and the direction it is grown in. */
interface Column {
  corner: number;
  /** Unit; of a mitre the way its sides' common edge goes out, seen from the tip, and as they rise. */
  normal: Vec3;
  /** How much farther than ρ an edge in which sides meet lies along that: 1 where nothing is mitred. */
  mitre: number;
}

/** One column a corner where its sides meet in an edge or go over into each other, else an arc of normals from one side's to the next's. */
function columnsOf({ core, draft, radius }: BodySpec): Column[] {
  const risen = ([x, y]: Vec2): Vec3 => [x * Math.cos(draft), y * Math.cos(draft), Math.sin(draft)];
  return core.corners.flatMap((_, corner): Column[] => {
    const [p, q] = sidesAt(core, corner);
    const [mx, my] = mitreOf(p, q);
    const mitre = Math.hypot(mx, my);
    if (isConcave(p, q) || (mitre - 1) * radius <= TOLERANCES.jointChord)
      return [{ corner, normal: risen([mx / mitre, my / mitre]), mitre }];
    const [from, to] = [risen(p), risen(q)];
    const steps = stepsFor(radius, angleBetween(from, to));
    return Array.from({ length: steps + 1 }, (_, i) => ({
      corner,
      normal: slerp(from, to, i / steps),
      mitre: 1,
    }));
  });
}

/** Outward directions of the sides before and after a corner; on a smooth curve both are its normal there. */
function sidesAt({ corners, normals }: CoreSection, corner: number): [Vec2, Vec2] {
  const normal = normals?.[corner];
  if (normal) return [normal, normal];
  return [
    sideDirection(corners, (corner + corners.length - 1) % corners.length),
    sideDirection(corners, corner),
  ];
}

/** The mitre m of two sides has m·p = m·q = 1: a corner goes along it when both move out by 1. */
function mitreOf([px, py]: Vec2, [qx, qy]: Vec2): Vec2 {
  const whole = 1 + px * qx + py * qy;
  return [(px + qx) / whole, (py + qy) / whole];
}

/** The mitre at every corner of a counter-clockwise outline. */
export const mitres = (corners: readonly Vec2[]): Vec2[] =>
  corners.map((_, k) => mitreOf(...sidesAt({ corners }, k)));

/** An outline with all its sides moved in by `mm`. */
export function movedIn(corners: readonly Vec2[], mm: number): Vec2[] {
  const ways = mitres(corners);
  return corners.map(([x, y], k): Vec2 => [x - ways[k][0] * mm, y - ways[k][1] * mm]);
}

/** True where an edge of a core lies in. */
export const isConcaveCore = (core: CoreSection): boolean =>
  core.corners.some((_, k) => isConcave(...sidesAt(core, k)));

const isConcave = ([px, py]: Vec2, [qx, qy]: Vec2): boolean => px * qy - py * qx < 0;

/** Outward direction of the side that leaves corner `k`. */
function sideDirection(corners: readonly Vec2[], k: number): Vec2 {
  const [ax, ay] = corners[k];
  const [bx, by] = corners[(k + 1) % corners.length];
  const l = Math.hypot(bx - ax, by - ay);
  return [(by - ay) / l, (ax - bx) / l];
}

/** Where a core corner is at height z: its sides have moved in by z tan(draft). */
export function coreCorner(
  { core, draft }: Pick<BodySpec, 'core' | 'draft'>,
  corner: number,
  z: number,
): Vec2 {
  const [mx, my] = mitreOf(...sidesAt(core, corner));
  const [x, y] = core.corners[corner];
  const inward = z * Math.tan(draft);
  return [x - mx * inward, y - my * inward];
}

/** The column's point at the bottom: the core point ρ n below or above it, moved out by ρ n. */
function rimPoint(spec: BodySpec, { corner, normal, mitre }: Column): Vec3 {
  const { radius, bottom } = spec;
  const [x, y] = coreCorner(spec, corner, bottom - radius * normal[2]);
  const out = radius * mitre;
  return [x + out * normal[0], y + out * normal[1], bottom];
}

/** A point of the rounding over the core's top, `share` of the way from the side's direction to straight up. */
function roundedPoint(spec: BodySpec, { corner, normal, mitre }: Column, share: number): Vec3 {
  const { radius, coreTop } = spec;
  const [x, y] = coreCorner(spec, corner, coreTop);
  const n = slerp(normal, [0, 0, 1], share);
  const out = radius * mitre;
  return [x + out * n[0], y + out * n[1], coreTop + radius * n[2]];
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

/** Radius of a circle about the axis that goes around the body's outline at the face, mm. */
export const reachAtFace = ({ core: { corners }, draft, radius }: BodySpec): number =>
  Math.max(...corners.map(([x, y]) => Math.hypot(x, y))) + radius / Math.cos(draft);

/** Height of the body's end over the face, mm. */
export const endOf = ({ coreTop, radius }: BodySpec): number => coreTop + radius;
