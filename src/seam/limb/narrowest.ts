import { type Plane, planeFrame } from '../../math/plane.ts';
import { add, dot, normalize, scale, type Vec3 } from '../../math/vec3.ts';
import { rayHits } from '../../mesh/near/ray-hits.ts';
import type { Part } from '../../mesh/part/part.ts';
import { snapDistance } from '../../mesh/plane/sides.ts';
import { type FittedSection, planeThrough, radiusOf } from './fitted.ts';
import { type LimbSection, LimbSections, limbSection, type SlopingSection } from './section.ts';

/** Steps that are taken at the most. */
const MOST_STEPS = 40;
/** As many sections at a click are begun with, where others lead to an end; each by a normal that is no nearer to theirs than by this cosine. */
const MOST_STARTS = 3;
const NEAREST_START = 0.6;
/** A section that has become less than this share of the first one is at the end of its limb. */
const ENDED = 1e-3;
/** How far planes are laid apart to see how the area bends: along the limb in radii, and by the tangent of a tilt. */
const WIDEST = { along: 0.3, tilt: Math.tan((12 * Math.PI) / 180) };
/** They are laid closer together, each time by so much, until they are this much of that. */
const CLOSER = 3;
const CLOSEST = 1 / 9;
/** A section of less than this share of the last one's area is still far from the least: planes go farther apart again. */
const FAR_LESS = 0.9;
/** From this share on planes are close. */
const CLOSE = 1 / 3;
/** A section of less than this share of the area of one beside it is of something else that the plane touches. */
const UNLIKE = 1 / 4;
/** Areas that differ by less are the same: where a limb is level it stays in the middle, where the quadratic brought it. */
const LEVEL = 1 - 1e-6;
/** A step goes no farther than this many times the planes are apart. */
const FARTHEST_STEP = 2;

/** A function of how far a plane is moved along its normal (radii) and tilted about its two level axes (tangents). */
type Moved = readonly [along: number, u: number, v: number];

/**
 * The locally smallest section of the limb at a point, in place and tilt, sought downhill from a plane: down the slope of its
 * area first, then by a quadratic through the areas of nine planes about it, whose least is the next place, with planes ever
 * closer together (a trust region; Conn, Gould and Toint, *Trust-Region Methods*, SIAM 2000).
 * Null where the plane meets no limb there, or one that only thins to its end.
 */
export function narrowest(part: Part, from: Plane, near: Vec3): FittedSection | null {
  const before = limbSection(part, from, near);
  return before && leastFrom(before, new LimbSections(part), part);
}

function leastFrom(before: LimbSection, sections: LimbSections, part: Part): FittedSection | null {
  const least = settleDown(slideDown(before, sections), sections);
  return least && { before, after: limbSection(part, least.plane, least.centroid) ?? least };
}

/** Far from the least it goes straight down the slope, as far as a step may, while each takes enough off: one section a step. */
function slideDown(start: LimbSection, sections: LimbSections): LimbSection {
  let here = sectionsAbout(start, sections)([0, 0, 0]);
  if (here === null) return start;
  for (let apart = 1; apart > 0.9 * CLOSE; ) {
    const next: SlopingSection | null = sectionsAbout(here, sections)(downhill(here, apart));
    if (next && next.areaMm2 < FAR_LESS * here.areaMm2) here = next;
    else apart /= CLOSER;
  }
  return here;
}

/** As far down the slope of a section's area as a step may go. */
function downhill(section: SlopingSection, apart: number): Moved {
  const widths = [WIDEST.along, WIDEST.tilt, WIDEST.tilt].map((width) => width * apart);
  const [along, u, v] = section.slope;
  const slope = [along * radiusOf(section), u, v].map((s, k) => s * widths[k]);
  const steepest = Math.max(...slope.map(Math.abs), Number.MIN_VALUE);
  return slope.map((s, k) => (-s / steepest) * FARTHEST_STEP * widths[k]) as unknown as Moved;
}

/**
 * Goes to the least of the quadratic through the areas about a section, again and again with planes closer together. Null
 * where the limb ends beside that: it only thins.
 */
function settleDown(start: LimbSection, sections: LimbSections): LimbSection | null {
  let here = start;
  let apart = 1;
  for (let step = 0; step < MOST_STEPS && apart > 0.9 * CLOSEST; step++) {
    const about = sectionsAbout(here, sections);
    let tried: LimbSection | null = null;
    const areaAt = (moved: Moved) => {
      const found = about(moved);
      if (found && found.areaMm2 < (tried?.areaMm2 ?? LEVEL * here.areaMm2)) tried = found;
      return found?.areaMm2 ?? Number.POSITIVE_INFINITY;
    };
    const least = leastNear(areaAt, here.areaMm2, [apart * WIDEST.along, apart * WIDEST.tilt]);
    const sought = least && about(least);
    const isLess = sought !== null && sought.areaMm2 < LEVEL * here.areaMm2;
    // Close by, where the areas are no quadratic, one of the planes that were tried may do.
    const next = isLess ? sought : apart < 1.1 * CLOSE ? (tried as LimbSection | null) : null;
    // Hardly any less: what is left to find is finer than the planes are apart.
    if (!next || next.areaMm2 > here.areaMm2 * (1 - 1e-3 * apart ** 2)) apart /= CLOSER;
    if (next) here = next;
    if (here.areaMm2 < ENDED * start.areaMm2) return null;
  }
  const beside = sectionsAbout(here, sections);
  return beside([WIDEST.along, 0, 0]) && beside([-WIDEST.along, 0, 0]) ? here : null;
}

/**
 * The locally smallest section of the limb at a point of its skin. `inward` is a direction into the figure, as one looks
 * at it. Null where nothing is ahead, and where all ways from there lead to an end of the limb.
 */
export function narrowestAt(part: Part, point: Vec3, inward: Vec3): FittedSection | null {
  const sections = new LimbSections(part);
  const begun: Vec3[] = [];
  for (const start of sectionsAt(part, point, inward, sections)) {
    const { normal } = start.plane;
    if (begun.some((other) => Math.abs(dot(normal, other)) > NEAREST_START)) continue;
    if (begun.push(normal) > MOST_STARTS) return null;
    const found = leastFrom(start, sections, part);
    if (found) return found;
  }
  return null;
}

/** Sections in all directions halfway through a limb from a point of its skin, the smallest first. */
function sectionsAt(part: Part, point: Vec3, inward: Vec3, sections: LimbSections): LimbSection[] {
  const runs = part.patches.map(({ triangles }) => triangles);
  const frame = planeFrame(planeThrough(normalize(inward), point), point);
  const ways = rayHits(part, runs, point, frame, 1).flatMap(({ leaves, distance }) =>
    leaves && distance > 2 * snapDistance(part) ? [distance] : [],
  );
  if (ways.length === 0) return [];
  const half = Math.min(...ways) / 2;
  const inside = add(point, scale(frame.n, half));
  return DIRECTIONS.flatMap(
    (normal) => sections.at(planeThrough(normal, inside), inside, 2 * half) ?? [],
  ).sort((a, b) => a.areaMm2 - b.areaMm2);
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

/** Sections about one of a limb, of the same limb, by how their planes are moved and tilted from its own. */
function sectionsAbout(
  section: LimbSection,
  sections: LimbSections,
): (moved: Moved) => SlopingSection | null {
  const { u, v, n } = planeFrame(section.plane, section.centroid);
  const radius = radiusOf(section);
  return ([along, tiltU, tiltV]) => {
    const plane = planeThrough(
      normalize(add(n, add(scale(u, tiltU), scale(v, tiltV)))),
      add(section.centroid, scale(n, along * radius)),
    );
    const found = sections.at(plane, section.centroid, section.reachMm);
    return found && found.areaMm2 > UNLIKE * section.areaMm2 ? found : null;
  };
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
  const ahead: number[] = [];
  const behind: number[] = [];
  for (let k = 0; k < 3; k++) {
    ahead[k] = at({ [k]: 1 });
    behind[k] = at({ [k]: -1 });
    if (!Number.isFinite(ahead[k] + behind[k])) return null;
  }
  const slope = ahead.map((value, k) => (value - behind[k]) / 2);
  const bend = ahead.map((value, k) => [0, 0, 0].fill(value + behind[k] - 2 * here, k, k + 1));
  // Where it bends down along one of them there is no least, however it is twisted.
  const pairs = bend.every((one, k) => one[k] > 0) ? PAIRS : [];
  for (const [j, k] of pairs) {
    // The corner that lies downhill: there the quadratic is to be right.
    const [a, b] = [slope[j] > 0 ? -1 : 1, slope[k] > 0 ? -1 : 1];
    const sides = (a > 0 ? ahead : behind)[j] + (b > 0 ? ahead : behind)[k];
    const twist = a * b * (at({ [j]: a, [k]: b }) - sides + here);
    bend[j][k] = twist;
    bend[k][j] = twist;
  }
  if (![...slope, ...bend.flat()].every(Number.isFinite)) return null;
  const steepest = Math.max(...slope.map(Math.abs));
  if (steepest === 0) return null;
  const least = isBowl(bend) ? solved(bend, slope) : slope.map((s) => (-s / steepest) * FARTHEST_STEP);
  const far = Math.max(1, ...least.map((s) => Math.abs(s) / FARTHEST_STEP));
  return least.map((s, k) => (s / far) * widths[k]) as unknown as Moved;
}

const PAIRS = [
  [0, 1],
  [0, 2],
  [1, 2],
] as const;

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
