import { nearestOnLoops } from '../../math/nearest-on-loops.ts';
import {
  fromFrame,
  type Plane,
  type PlaneFrame,
  planeDistance,
  planeFrame,
  toFrame,
} from '../../math/plane.ts';
import { pointInside } from '../../math/point-inside.ts';
import { type Loop, loopArea, windingAt } from '../../math/polygon.ts';
import { add, cross, dot, length, normalize, scale, sub, type Vec3 } from '../../math/vec3.ts';
import type { Part } from '../../mesh/part/part.ts';
import { crossPlane } from '../../mesh/plane/cross-plane.ts';
import { outlineOf } from '../../mesh/plane/outline.ts';
import { groupAt, groupOutlines } from './outline-groups.ts';

/** Planes tried on a way at the most: each costs an outline. */
const MOST_PLANES = 48;
/** The turn of one step. */
const STEP_RAD = (2 * Math.PI) / 180;
/** A step is halved so often at the most before a limb counts as ended. */
const LEAST_SHARE = 1 / 8;
/** How a step that was halved grows again with each that finds all limbs. */
const GROWTH = 1.25;
/** A limb that leans may be off its last place by this many times what the plane went there. */
const LEAN = 3;

/** The outlines of one place of the plane. */
interface Station {
  frame: PlaneFrame;
  regions: { around: Loop[]; inside: Vec3 }[];
}

/** A limb that is followed: a point within it, and the outlines around it where it was last seen. */
interface Limb {
  at: Vec3;
  around: readonly Loop[];
  frame: PlaneFrame;
}

/**
 * Follows outlines of a plane that moves from one place to another, in small steps from limb to same limb.
 * @param through points that mean the outlines on the first plane, recentred mm, as those of the answer.
 * @param stepMm how far the plane goes in a step.
 * @returns for each a point well within its outline on the last plane; null where its limb ends on the way.
 */
export function followOutlines(
  part: Part,
  from: Plane,
  to: Plane,
  through: readonly Vec3[],
  stepMm: number,
): (Vec3 | null)[] {
  const middle = scale(through.reduce(add, [0, 0, 0]), 1 / through.length);
  const start = stationOf(part, from, middle);
  let limbs = through.map((point): Limb | null => {
    const region = start.regions[groupAt(start.regions, toFrame(start.frame, point))];
    return region ? { at: region.inside, around: region.around, frame: start.frame } : null;
  });
  const way = wayBetween(from, to, middle);
  const steps = Math.ceil(Math.max(way.mm / stepMm, way.rad / STEP_RAD));
  const whole = 1 / Math.min(MOST_PLANES, Math.max(1, steps));
  let step = whole;
  let tried = 0;
  for (let done = 0; done < 1; ) {
    const isLast = ++tried >= MOST_PLANES;
    const next = isLast ? 1 : Math.min(1, done + step);
    const plane = next === 1 ? to : way.at(next);
    const station = stationOf(part, plane, middle);
    const isSettled = isLast || step <= whole * LEAST_SHARE;
    const met = limbs.map((limb) => limb && meet(limb, station, plane, isSettled));
    if (!isSettled && met.some((limb, k) => limb === null && limbs[k] !== null)) {
      step /= 2;
      continue;
    }
    limbs = met;
    done = next;
    step = Math.min(whole, step * GROWTH);
  }
  return limbs.map((limb) => limb?.at ?? null);
}

/** The same limb where the plane is now: the outline its last point lies in, or one within its last outline; else, where it is settled, one close by. */
function meet({ at, around, frame }: Limb, station: Station, plane: Plane, isSettled: boolean): Limb | null {
  const { regions } = station;
  const [x, y] = toFrame(station.frame, at);
  const found =
    regions.find((region) => windingAt(region.around, x, y) > 0) ??
    nearest(
      at,
      regions.filter(({ inside }) => windingAt(around, ...toFrame(frame, inside)) > 0),
    ) ??
    (isSettled ? closeBy(at, station, LEAN * Math.abs(planeDistance(plane, at))) : null);
  return found && { at: found.inside, around: found.around, frame: station.frame };
}

function nearest(at: Vec3, regions: Station['regions']): Station['regions'][number] | null {
  const distances = regions.map(({ inside }) => length(sub(inside, at)));
  return regions[distances.indexOf(Math.min(...distances))] ?? null;
}

/** The region whose outline is nearest, no farther than `within` (mm). */
function closeBy(at: Vec3, { regions, frame }: Station, within: number): Station['regions'][number] | null {
  const [x, y] = toFrame(frame, at);
  const group = groupAt(regions, [x, y]);
  if (group < 0) return null;
  return nearestOnLoops(regions[group].around, x, y).distance <= within ? regions[group] : null;
}

function stationOf(part: Part, plane: Plane, near: Vec3): Station {
  const frame = planeFrame(plane, near);
  const runs = part.patches.map(({ triangles }) => triangles);
  const crossing = crossPlane(part, runs, plane);
  const { rings, loops } = outlineOf(crossing, frame);
  const regions = groupOutlines(crossing, rings, loops).groups.flatMap(({ around }) => {
    if (around.length === 0) return [];
    const largest = around.reduce((a, b) => (loopArea(b) > loopArea(a) ? b : a));
    return [{ around, inside: fromFrame(frame, pointInside(largest)) }];
  });
  return { frame, regions };
}

/** Planes between two: turned about the line both normals are square to, and as far from `pivot` in proportion. */
function wayBetween(
  from: Plane,
  to: Plane,
  pivot: Vec3,
): { mm: number; rad: number; at: (share: number) => Plane } {
  const [near, far] = [planeDistance(from, pivot), planeDistance(to, pivot)];
  const axis = cross(from.normal, to.normal);
  const rad = Math.atan2(length(axis), dot(from.normal, to.normal));
  const side = normalize(cross(axis, from.normal));
  return {
    mm: Math.abs(far - near),
    rad,
    at: (share) => {
      const turn = share * rad;
      const normal = normalize(add(scale(from.normal, Math.cos(turn)), scale(side, Math.sin(turn))));
      return { normal, offset: dot(normal, pivot) - (near + share * (far - near)) };
    },
  };
}
