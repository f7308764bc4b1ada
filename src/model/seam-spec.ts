import { type Plane, plane } from '../math/plane.ts';
import { cross, dot, sub, type Vec3 } from '../math/vec3.ts';
import { nestingOf } from './contact-seam.ts';
import type { PlaneSpec, SeamSpec, SheetSpec } from './seam-schema.ts';

/** Changes of a seam that need no mesh, and comparisons, whatever its kind. */

/** A plane as a job has it: a normal of any length, the offset along its unit, mm. */
export interface SeamPlane {
  normal: Vec3;
  offsetMm: number;
}

/** A seam by a plane, through all that it meets. */
export const planeSeam = (normal: Vec3, offsetMm: number): PlaneSpec => ({ kind: 'plane', normal, offsetMm });

/** The plane by which a hand holds the seam, a flat's where one is set across; null for one that lies where its bodies do. */
export function heldPlane(by: SeamSpec): SeamPlane | null {
  if (by.kind === 'plane') return { normal: by.normal, offsetMm: by.offsetMm };
  if (by.kind !== 'contact' || !by.flat) return null;
  const { at, normal } = by.flat;
  const along = at.reduce((sum, value, k) => sum + value * normal[k], 0);
  return { normal, offsetMm: along / Math.hypot(...normal) };
}

/** The direction to the front of the seam, of a line across its ends; null for one that lies where its bodies do. */
export function facingOf(by: SeamSpec): Vec3 | null {
  if (by.kind === 'plane') return by.normal;
  if (by.kind === 'contact') return null;
  const facing = cross(by.along, sub(by.line[by.line.length - 1], by.line[0]));
  return Math.hypot(...facing) > 0 ? facing : by.along;
}

/** True where a hand can move the seam: not one that lies where its bodies do. */
export const followsHand = (by: SeamSpec): boolean => by.kind !== 'contact' || by.flat !== undefined;

/** The seam held by another plane, if a plane is what holds it; the outlines that were meant are followed along the new normal. */
export function withPlane(by: SeamSpec, { normal, offsetMm }: SeamPlane): SeamSpec {
  if (by.kind === 'contact')
    return by.flat ? { ...by, flat: { at: ontoPlane({ normal, offsetMm }, by.flat.at), normal } } : by;
  if (by.kind !== 'plane') return by;
  const through = by.through?.map((p) => ontoPlane({ normal, offsetMm }, p));
  return { ...by, normal, offsetMm, ...(through && { through }) };
}

/** The point of the plane nearest to `p`, rounded to a ten-thousandth so that jobs stay readable. */
export function ontoPlane({ normal, offsetMm }: SeamPlane, p: Vec3): Vec3 {
  const norm = Math.hypot(...normal);
  const n = normal.map((c) => c / norm);
  const lift = offsetMm - (n[0] * p[0] + n[1] * p[1] + n[2] * p[2]);
  return rounded([p[0] + lift * n[0], p[1] + lift * n[1], p[2] + lift * n[2]]);
}

/** A place to a ten-thousandth of a mm. */
export const rounded = ([x, y, z]: Vec3): Vec3 => [roundTo(x, 1e4), roundTo(y, 1e4), roundTo(z, 1e4)];

/** `value` to 1/`perUnit`; never a negative zero, which would not survive a saved file. */
export const roundTo = (value: number, perUnit: number): number => Math.round(value * perUnit) / perUnit + 0;

/** The outlines that a seam cuts of those it meets; null where it cuts them all. */
export const throughOf = (by: SeamSpec): readonly Vec3[] | null =>
  (by.kind === 'contact' ? null : by.through) ?? null;

/** The seam cutting the outlines at these points only; null for all of them. */
export function withThrough(by: SeamSpec, through: readonly Vec3[] | null): SeamSpec {
  if (by.kind === 'contact') return by;
  const { through: _, ...all } = by;
  return through === null || through.length === 0 ? all : { ...all, through: [...through] };
}

/** A turn of directions and places about the origin with a scale, as when a figure is stood up or made larger. */
export interface FigureMove {
  turn(direction: Vec3): Vec3;
  place(p: Vec3): Vec3;
  scale: number;
}

/** The seam moved with its figure. */
export function movedSeam(by: SeamSpec, { turn, place, scale }: FigureMove): SeamSpec {
  if (by.kind === 'contact') {
    const { flat } = by;
    return flat ? { ...by, flat: { at: place(flat.at), normal: turn(flat.normal) } } : by;
  }
  const through = by.through?.map(place);
  if (by.kind === 'sheet') {
    const flats = by.flats?.map(({ at, widthMm }) => ({ at: place(at), widthMm: widthMm * scale }));
    return {
      ...by,
      line: by.line.map(place),
      along: turn(by.along),
      ...(flats && { flats }),
      ...(through && { through }),
    };
  }
  return { ...by, normal: turn(by.normal), offsetMm: by.offsetMm * scale, ...(through && { through }) };
}

/** A plane as a job has it, for reckoning. */
export const planeOf = ({ normal, offsetMm }: SeamPlane): Plane => plane(normal, offsetMm);

/** A plane of recentred coordinates as a job has it; `originMm` leads to the file's. */
export const planeTo = ({ normal, offset }: Plane, originMm: Vec3): SeamPlane => ({
  normal,
  offsetMm: offset + dot(normal, originMm),
});

/** True where two seams divide alike. */
export function isSameSeam(a: SeamSpec, b: SeamSpec): boolean {
  if (a.kind === 'plane' && b.kind === 'plane')
    return a.offsetMm === b.offsetMm && isSamePlace(a.normal, b.normal) && areSame(a.through, b.through);
  if (a.kind === 'sheet' && b.kind === 'sheet')
    return (
      a.runs === b.runs &&
      isSamePlace(a.along, b.along) &&
      areSame(a.line, b.line) &&
      areSame(a.through, b.through) &&
      areSame(placesOf(a), placesOf(b)) &&
      (a.flats ?? []).every(({ widthMm }, i) => widthMm === b.flats?.[i].widthMm)
    );
  if (a.kind !== 'contact' || b.kind !== 'contact') return false;
  const nested = (by: SeamSpec) => JSON.stringify(nestingOf(by));
  return a.bodies.every((body, i) => body === b.bodies[i]) && nested(a) === nested(b);
}

const placesOf = ({ flats = [] }: SheetSpec): Vec3[] => flats.map(({ at }) => at);

const isSamePlace = (p: Vec3, q: Vec3): boolean => p.every((v, k) => v === q[k]);

const areSame = (a: readonly Vec3[] = [], b: readonly Vec3[] = []): boolean =>
  a.length === b.length && a.every((p, i) => isSamePlace(p, b[i]));
