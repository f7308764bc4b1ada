import { type Plane, planeFrame } from '../../math/plane.ts';
import { add, dot, normalize, scale, sub, type Vec2, type Vec3 } from '../../math/vec3.ts';
import type { Part } from '../../mesh/part/part.ts';
import { type FittedSection, planeThrough, radiusOf } from './fitted.ts';
import { type LimbSection, LimbSections, limbSection } from './section.ts';

/** How far the sections lie off on both sides of which the middles are joined, in radii of a circle of the section's area; nearer where the limb is too short for that. */
const APART = [0.35, 0.15];
/** A section there of more than so many times the area of that between, or less than that share, is of something else. */
const MOST_UNLIKE = 3;
/** Steps that are taken at the most, and how far one may turn the plane, by its tangent. */
const MOST_STEPS = 16;
const FARTHEST_STEP = Math.tan((15 * Math.PI) / 180);
/** Turned by this much it is seen how the line turns with the plane. */
const TRIED = Math.tan((2 * Math.PI) / 180);
/** A step that turns it by no more than this is the last. */
const CLOSEST = Math.tan((0.02 * Math.PI) / 180);
/** A plane turned by more than this, by its tangent, is square to something else: 45°. */
const FARTHEST = 1;
/** A line that turns with the plane to within this share of the same tells no direction, as in a ball. */
const FOLLOWS = 0.1;

/**
 * The section of a limb at a point by a plane square to the limb: turned about the middle of the section that a plane makes
 * there, it goes along with the line that joins the middles of the limb's sections on both sides of it and parallel to it.
 * A plane that leans makes that line lean too: of a round limb of radius r(z) by −(r² / 2)″ times as much, so that neither the
 * line nor the line of the line is the axis where a neck flares. Square is the plane that is so to its own line, found by
 * Newton's method on the angle between both. In a limb that is the same all round, or on both sides, that is its axis itself.
 *
 * Null where the plane meets no limb; where the limb is too short or too unlike itself a seventh of a radius to both
 * sides, as in a crotch; where it has no direction of its own, as a ball; and where no such plane is found within 45° of
 * the one there is. It is found from leans of 35° wherever such a plane leaves the limb all round by its side.
 */
export function squareTo(part: Part, from: Plane, near: Vec3): FittedSection | null {
  const before = limbSection(part, from, near);
  if (before === null) return null;
  const { u, v, n } = planeFrame(from, before.centroid);
  const planeAt = ([x, y]: Vec2): Plane =>
    planeThrough(normalize(add(n, add(scale(u, x), scale(v, y)))), before.centroid);
  const sections = new LimbSections(part);
  for (const apart of APART) {
    const lean = zeroOf((at) => {
      const line = lineOf(sections, planeAt(at), before, apart);
      const rise = line ? dot(line, n) : 0;
      return line && rise > 0 ? [dot(line, u) / rise - at[0], dot(line, v) / rise - at[1]] : null;
    });
    const after = lean && limbSection(part, planeAt(lean), before.centroid);
    if (after) return { before, after };
  }
  return null;
}

/** From the middle of the section behind a plane to that of the one in front, so many radii apart from it; null where there is none of the same limb. */
function lineOf(
  sections: LimbSections,
  plane: Plane,
  { centroid, reachMm }: LimbSection,
  radii: number,
): Vec3 | null {
  const here = sections.at(plane, centroid, reachMm);
  if (here === null) return null;
  const apart = radii * radiusOf(here);
  const [ahead, behind] = [apart, -apart].map((by) => {
    const at = add(here.centroid, scale(plane.normal, by));
    const found = sections.at(planeThrough(plane.normal, at), at, here.reachMm);
    const unlike = found ? found.areaMm2 / here.areaMm2 : 0;
    return unlike < MOST_UNLIKE && unlike > 1 / MOST_UNLIKE ? found : null;
  });
  return ahead && behind && sub(ahead.centroid, behind.centroid);
}

/** Where a function of two tangents is zero, from zero on; null where it is not found, or not clear. */
function zeroOf(offAt: (lean: Vec2) => Vec2 | null): Vec2 | null {
  let lean: Vec2 = [0, 0];
  let off = offAt(lean);
  for (let step = 0; step < MOST_STEPS && off; step++) {
    const onU = offAt([lean[0] + TRIED, lean[1]]);
    const onV = offAt([lean[0], lean[1] + TRIED]);
    if (!onU || !onV) return null;
    const [a, b] = [(onU[0] - off[0]) / TRIED, (onV[0] - off[0]) / TRIED];
    const [c, d] = [(onU[1] - off[1]) / TRIED, (onV[1] - off[1]) / TRIED];
    const det = a * d - b * c;
    if (Math.abs(det) < FOLLOWS ** 2) return null;
    const by: Vec2 = [(b * off[1] - d * off[0]) / det, (c * off[0] - a * off[1]) / det];
    const far = Math.hypot(...by);
    if (far < CLOSEST) return lean;
    const next = nearer(offAt, lean, scale2(by, Math.min(1, FARTHEST_STEP / far)), Math.hypot(...off));
    if (next === null) return null;
    ({ lean, off } = next);
  }
  return null;
}

/** A step, or so little of it that what is off becomes less. */
function nearer(offAt: (lean: Vec2) => Vec2 | null, lean: Vec2, by: Vec2, than: number) {
  for (let share = 1; share > 1 / 32; share /= 2) {
    const at: Vec2 = [lean[0] + share * by[0], lean[1] + share * by[1]];
    const off = offAt(at);
    if (off && Math.hypot(...off) < than && Math.hypot(...at) < FARTHEST) return { lean: at, off };
  }
  return null;
}

const scale2 = ([x, y]: Vec2, by: number): Vec2 => [x * by, y * by];
