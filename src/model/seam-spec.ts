import { z } from 'zod';
import type { Vec3 } from '../math/vec3.ts';
import { rule } from './job-fault.ts';
import { partId, partRef } from './part-ref.ts';

/** How a seam divides: what kinds of seams there are in a job, and the changes of one that need no mesh. */

const vec3 = z.tuple([z.number(), z.number(), z.number()]).readonly();

const bodyName = z.string().trim().min(1);

export const seamSpecSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('plane'),
    normal: vec3.refine((n) => Math.hypot(...n) > 1e-9, rule('no-direction')),
    offsetMm: z.number(),
    /** Points on the outlines meant, where the plane meets the part in several places; none: all of them. */
    through: z.array(vec3).min(1).optional(),
  }),
  z.strictObject({
    kind: z.literal('contact'),
    /** Two bodies that touch, by name or, from 1, by number; or sides of earlier seams. The first is the front. */
    bodies: z
      .tuple([bodyName, bodyName])
      .readonly()
      .refine(([a, b]) => a !== b, rule('one-body')),
  }),
]);

export type SeamSpec = z.output<typeof seamSpecSchema>;
/** A seam by a plane. */
export type PlaneSpec = SeamSpec & { kind: 'plane' };

/** A plane as a job has it: a normal of any length, the offset along its unit, mm. */
export interface SeamPlane {
  normal: Vec3;
  offsetMm: number;
}

/** A seam by a plane, through all that it meets. */
export const planeSeam = (normal: Vec3, offsetMm: number): PlaneSpec => ({ kind: 'plane', normal, offsetMm });

/** A seam where two parts touch, each by its id. */
export const contactSeam = (front: string, back: string): SeamSpec => ({
  kind: 'contact',
  bodies: [calledBy(front), calledBy(back)],
});

/** A part as a seam that joins it is to name it: a body by what it is called alone, where that is not what another part's id looks like. */
function calledBy(id: string): string {
  const ref = partRef(id);
  return ref?.of === 'body' && partRef(ref.body) === null ? ref.body : id;
}

/** The two parts that a seam joins, front first, as a job refers to parts; null for one that divides a part. */
export function joinedBy(by: SeamSpec): [string, string] | null {
  if (by.kind !== 'contact') return null;
  const [front, back] = by.bodies.map((body) => (partRef(body) ? body : partId({ of: 'body', body })));
  return [front, back];
}

/** The seam joining the same two parts where one of them goes by another id; any other as it is. */
export function renamedJoin(by: SeamSpec, idOf: (id: string) => string): SeamSpec {
  const joined = joinedBy(by);
  if (joined === null) return by;
  const [front, back] = joined.map(idOf);
  return front === joined[0] && back === joined[1] ? by : contactSeam(front, back);
}

/** The plane by which a hand holds the seam; null for one that lies where its bodies do. */
export const heldPlane = (by: SeamSpec): SeamPlane | null =>
  by.kind === 'plane' ? { normal: by.normal, offsetMm: by.offsetMm } : null;

/** The seam held by another plane, if a plane is what holds it; the outlines that were meant are followed along the new normal. */
export function withPlane(by: SeamSpec, { normal, offsetMm }: SeamPlane): SeamSpec {
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
  (by.kind === 'plane' ? by.through : null) ?? null;

/** The seam cutting the outlines at these points only; null for all of them. */
export function withThrough(by: SeamSpec, through: readonly Vec3[] | null): SeamSpec {
  if (by.kind !== 'plane') return by;
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
  if (by.kind !== 'plane') return by;
  const through = by.through?.map(place);
  return { ...by, normal: turn(by.normal), offsetMm: by.offsetMm * scale, ...(through && { through }) };
}

/** True where two seams divide alike. */
export function isSameSeam(a: SeamSpec, b: SeamSpec): boolean {
  if (a.kind === 'plane' && b.kind === 'plane') return isSamePlane(a, b);
  return a.kind === 'contact' && b.kind === 'contact' && a.bodies.every((body, i) => body === b.bodies[i]);
}

function isSamePlane(a: PlaneSpec, b: PlaneSpec): boolean {
  const isSamePoint = (p: Vec3, q: Vec3 | undefined) => q !== undefined && p.every((v, k) => v === q[k]);
  return (
    a.offsetMm === b.offsetMm &&
    isSamePoint(a.normal, b.normal) &&
    a.through?.length === b.through?.length &&
    (a.through ?? []).every((p, i) => isSamePoint(p, b.through?.[i]))
  );
}
