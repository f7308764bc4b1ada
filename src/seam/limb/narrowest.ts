import { type Plane, planeFrame } from '../../math/plane.ts';
import { add, dot, length, normalize, scale, sub, type Vec3 } from '../../math/vec3.ts';
import { rayHits } from '../../mesh/near/ray-hits.ts';
import type { Part } from '../../mesh/part/part.ts';
import { snapDistance } from '../../mesh/plane/sides.ts';
import { type LimbSection, limbSection } from './section.ts';
import { surroundings } from './surroundings.ts';

/** What is looked at around a section, in radii of a circle of its area: another stretch once the section has moved half of that. */
const REACH_RADII = 3;
/** A section found there of a smaller radius than this share may be what is left of one cut off at the edge, and is sought in all of the part. */
const CUT_OFF = 0.5;
/** Steps that are taken at the most. */
const MOST_STEPS = 40;
/** A section that has become less than this share of the first one is at the end of its limb. */
const ENDED = 1e-3;
/** How far planes are laid apart to see how the area bends: along the limb in radii, and by the tangent of a tilt. */
const WIDEST = { along: 0.3, tilt: Math.tan((12 * Math.PI) / 180) };
/** They are laid closer together until they are this much of that. */
const CLOSEST = 1 / 8;
/** A step goes no farther than this many times the planes are apart. */
const FARTHEST_STEP = 2;

/** A section, and the one it was found from. */
export interface FittedSection {
  before: LimbSection;
  after: LimbSection;
}

/** A function of how far a plane is moved along its normal (radii) and tilted about its two level axes (tangents). */
type Moved = readonly [along: number, u: number, v: number];

/**
 * The locally smallest section of the limb at a point, in place and tilt, sought downhill from a plane: the areas of
 * nineteen planes about it give a quadratic, whose least is the next place, with planes ever closer together (a trust
 * region; Conn, Gould and Toint, *Trust-Region Methods*, SIAM 2000).
 * Null where the plane meets no limb there, or one that only thins to its end.
 */
export function narrowest(part: Part, from: Plane, near: Vec3): FittedSection | null {
  const before = limbSection(part, from, near);
  if (before === null) return null;
  const around = new Around(part, before);
  const least = settleDown(before, around);
  // It thins to nothing: an end of a limb has no narrowest place.
  if (least.areaMm2 < ENDED * before.areaMm2) return null;
  return { before, after: limbSection(part, least.plane, least.centroid) ?? least };
}

/** Goes to the least of the quadratic through the areas about a section, again and again with planes closer together. */
function settleDown(start: LimbSection, around: Around): LimbSection {
  let here = start;
  let apart = 1;
  for (let step = 0; step < MOST_STEPS && apart >= CLOSEST; step++) {
    const planeOf = movedFrom(here);
    const areaAt = (moved: Moved) =>
      around.section(planeOf(moved), here.centroid)?.areaMm2 ?? Number.POSITIVE_INFINITY;
    const at = leastNear(areaAt, here.areaMm2, [apart * WIDEST.along, apart * WIDEST.tilt]);
    const next = at && around.section(planeOf(at), here.centroid);
    const isLess = next !== null && next.areaMm2 < here.areaMm2;
    // Hardly any less: what is left to find is finer than the planes are apart.
    if (!isLess || next.areaMm2 > here.areaMm2 * (1 - 1e-3 * apart ** 2)) apart /= 2;
    if (isLess) here = next;
  }
  return here;
}

/**
 * Halfway through a limb from a point of its skin, and of the planes through there in all directions the one with the
 * smallest section: where to begin at a click. `inward` is a direction into the figure, as one looks at it. Null where
 * nothing is ahead.
 */
export function planeAt(part: Part, point: Vec3, inward: Vec3): { plane: Plane; inside: Vec3 } | null {
  const runs = part.patches.map(({ triangles }) => triangles);
  const frame = planeFrame(through(normalize(inward), point), point);
  const ways = rayHits(part, runs, point, frame, 1).flatMap(({ leaves, distance }) =>
    leaves && distance > 2 * snapDistance(part) ? [distance] : [],
  );
  if (ways.length === 0) return null;
  const inside = add(point, scale(frame.n, Math.min(...ways) / 2));
  const sections = DIRECTIONS.flatMap((normal) => limbSection(part, through(normal, inside), inside) ?? []);
  const least = sections.reduce<LimbSection | null>(
    (best, one) => (best === null || one.areaMm2 < best.areaMm2 ? one : best),
    null,
  );
  return least && { plane: least.plane, inside };
}

/** Thirteen directions, as even as those to a cube's faces, edges and corners are. */
const DIRECTIONS: readonly Vec3[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
  [1, 1, 0],
  [1, -1, 0],
  [1, 0, 1],
  [1, 0, -1],
  [0, 1, 1],
  [0, 1, -1],
  [1, 1, 1],
  [1, 1, -1],
  [1, -1, 1],
  [-1, 1, 1],
].map(([x, y, z]) => normalize([x, y, z]));

const through = (normal: Vec3, point: Vec3): Plane => ({ normal, offset: dot(normal, point) });

/** Of a circle as large as the section, mm. */
const radiusOf = ({ areaMm2 }: Pick<LimbSection, 'areaMm2'>): number =>
  Math.sqrt(Math.max(areaMm2, 1e-12) / Math.PI);

/** Looks for sections among what lies about the last one, and among all of a part where that does not hold one. */
class Around {
  readonly #whole: Part;
  #part: Part;
  #radius: number;
  #centre: Vec3;

  constructor(whole: Part, { areaMm2, centroid }: LimbSection) {
    this.#whole = whole;
    this.#radius = radiusOf({ areaMm2 });
    this.#centre = centroid;
    this.#part = surroundings(whole, centroid, REACH_RADII * this.#radius);
  }

  section(plane: Plane, near: Vec3): LimbSection | null {
    const isFar = length(sub(near, this.#centre)) > (REACH_RADII / 2) * this.#radius;
    const found = isFar ? null : limbSection(this.#part, plane, near);
    if (found && found.areaMm2 > CUT_OFF ** 2 * Math.PI * this.#radius ** 2) return found;
    const again = limbSection(this.#whole, plane, near);
    if (again && isFar) {
      this.#radius = radiusOf(again);
      this.#centre = again.centroid;
      this.#part = surroundings(this.#whole, this.#centre, REACH_RADII * this.#radius);
    }
    return again;
  }
}

/** Planes about a section by how they are moved and tilted from it. */
function movedFrom(section: LimbSection): (moved: Moved) => Plane {
  const { u, v, n } = planeFrame(section.plane, section.centroid);
  const radius = radiusOf(section);
  return ([along, tiltU, tiltV]) =>
    through(
      normalize(add(n, add(scale(u, tiltU), scale(v, tiltV)))),
      add(section.centroid, scale(n, along * radius)),
    );
}

/**
 * Where the quadratic through values about zero is least, no farther off than a step may go; down its slope where it has
 * no least. Null where some value is none, or where it is level.
 */
function leastNear(
  valueAt: (at: Moved) => number,
  here: number,
  [h, t]: readonly [number, number],
): Moved | null {
  const widths = [h, t, t] as const;
  const at = (changes: Record<number, number>): number =>
    valueAt([0, 1, 2].map((k) => (changes[k] ?? 0) * widths[k]) as unknown as Moved);
  // In units of the widths.
  const slope = [0, 0, 0];
  const bend = [
    [0, 0, 0],
    [0, 0, 0],
    [0, 0, 0],
  ];
  for (let k = 0; k < 3; k++) {
    const [ahead, behind] = [at({ [k]: 1 }), at({ [k]: -1 })];
    slope[k] = (ahead - behind) / 2;
    bend[k][k] = ahead + behind - 2 * here;
    for (let j = 0; j < k; j++) {
      const corner = (a: number, b: number) => at({ [j]: a, [k]: b });
      const twist = (corner(1, 1) - corner(1, -1) - corner(-1, 1) + corner(-1, -1)) / 4;
      bend[j][k] = twist;
      bend[k][j] = twist;
    }
  }
  if (![...slope, ...bend.flat()].every(Number.isFinite)) return null;
  const steepest = Math.max(...slope.map(Math.abs));
  if (steepest === 0) return null;
  const least = isBowl(bend) ? solved(bend, slope) : slope.map((s) => (-s / steepest) * FARTHEST_STEP);
  const far = Math.max(1, ...least.map((s) => Math.abs(s) / FARTHEST_STEP));
  return least.map((s, k) => (s / far) * widths[k]) as unknown as Moved;
}

/** True for a symmetric 3 × 3 matrix all of whose leading minors are greater than zero (Sylvester's criterion). */
function isBowl([[a, b, c], [, e, f], [, , i]]: number[][]): boolean {
  return a > 0 && a * e - b * b > 0 && determinant(a, b, c, e, f, i) > 0;
}

const determinant = (a: number, b: number, c: number, e: number, f: number, i: number): number =>
  a * (e * i - f * f) - b * (b * i - f * c) + c * (b * f - e * c);

/** Solves bend · x = −slope by Cramer's rule. */
function solved([[a, b, c], [, e, f], [, , i]]: number[][], [p, q, r]: number[]): number[] {
  const d = determinant(a, b, c, e, f, i);
  return [
    -(p * (e * i - f * f) + q * (c * f - b * i) + r * (b * f - c * e)) / d,
    -(p * (f * c - b * i) + q * (a * i - c * c) + r * (b * c - a * f)) / d,
    -(p * (b * f - c * e) + q * (b * c - a * f) + r * (a * e - b * b)) / d,
  ];
}
