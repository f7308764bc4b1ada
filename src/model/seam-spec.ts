import { z } from 'zod';
import { type Plane, plane } from '../math/plane.ts';
import { cross, dot, sub, type Vec3 } from '../math/vec3.ts';
import { rule } from './job-fault.ts';
import { LIMITS } from './limits.ts';
import { partId, partRef, type Side } from './part-ref.ts';

/** How a seam divides: what kinds of seams there are in a job, and the changes of one that need no mesh. */

const vec3 = z.tuple([z.number(), z.number(), z.number()]).readonly();

const bodyName = z.string().trim().min(1);
const direction = vec3.refine((n) => Math.hypot(...n) > 1e-9, rule('no-direction'));
const within = ([low, high]: readonly [number, number]) => z.number().min(low).max(high).optional();

/** Points on the outlines meant, where a seam meets its part in several places; none: all of them. */
const through = z.array(vec3).min(1).optional();

export const seamSpecSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('plane'),
    normal: direction,
    offsetMm: z.number(),
    through,
  }),
  z
    .strictObject({
      kind: z.literal('contact'),
      /** Two bodies that touch or overlap, by name or, from 1, by number; or sides of earlier seams. The first is the front. */
      bodies: z
        .tuple([bodyName, bodyName])
        .readonly()
        .refine(([a, b]) => a !== b, rule('one-body')),
      /** Where they overlap, the one of them that is trimmed by the other; left out: the larger. */
      gives: bodyName.optional(),
      /** Gap between them inside, square to their surfaces. */
      nestGapMm: within(LIMITS.nestGapMm),
      /** How far in from the outer edge the gap closes to nothing; 0: it stays open there. */
      rimMm: within(LIMITS.rimMm),
      /** A plane across what they share, by a point of it and its normal: there they meet flat, and joints may stand. */
      flat: z.strictObject({ at: vec3, normal: direction }).optional(),
    })
    .refine(({ bodies, gives }) => gives === undefined || bodies.some((body) => areOnePart(body, gives)), {
      path: ['gives'],
      ...rule('neither-body'),
    }),
  z.strictObject({
    kind: z.literal('sheet'),
    /** Points of a line over the figure, which goes on straight at both ends. */
    line: z.array(vec3).min(2).max(LIMITS.linePoints),
    /** The way the line is swept, both ways without end. The front lies left of the line seen against it. */
    along: vec3.refine((n) => Math.hypot(...n) > 1e-9, rule('no-sweep')),
    /** Straight from point to point, each run a flat face, or a curve through them. */
    runs: z.enum(['straight', 'smooth']).default('straight'),
    /** Where a smooth line is made straight so that joints can stand there: around these places, so wide, mm. */
    flats: z
      .array(z.strictObject({ at: vec3, widthMm: z.number().min(LIMITS.flatMm[0]).max(LIMITS.flatMm[1]) }))
      .max(LIMITS.linePoints)
      .optional(),
    through,
  }),
]);

export type SeamSpec = z.output<typeof seamSpecSchema>;
/** A seam by a plane. */
export type PlaneSpec = SeamSpec & { kind: 'plane' };
/** A seam by a line swept through the figure. */
export type SheetSpec = SeamSpec & { kind: 'sheet' };

/** A seam where two bodies touch or overlap. */
export type ContactSpec = SeamSpec & { kind: 'contact' };
/** A plane across what two bodies share. */
export type SeamFlat = NonNullable<ContactSpec['flat']>;

/** How far in from the outer edge a gap closes where a job does not say, mm. */
export const USUAL_RIM_MM = 1;

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

/** A seam by a line swept along a direction, through all that it meets. */
export const sheetSeam = (
  line: readonly Vec3[],
  along: Vec3,
  runs: SheetSpec['runs'] = 'straight',
): SheetSpec => ({
  kind: 'sheet',
  line: [...line],
  along,
  runs,
});

/** The two parts that a seam joins, front first, as a job refers to parts; null for one that divides a part. */
export function joinedBy(by: SeamSpec): [string, string] | null {
  if (by.kind !== 'contact') return null;
  const [front, back] = by.bodies.map(partIdOf);
  return [front, back];
}

/** The seam joining the same two parts where one of them goes by another id; any other as it is. */
export function renamedJoin(by: SeamSpec, idOf: (id: string) => string): SeamSpec {
  if (by.kind !== 'contact') return by;
  const named = (called: string) => {
    const id = partIdOf(called);
    return idOf(id) === id ? called : calledBy(idOf(id));
  };
  const [front, back] = by.bodies.map(named);
  if (front === by.bodies[0] && back === by.bodies[1]) return by;
  return { ...by, bodies: [front, back], ...(by.gives !== undefined && { gives: named(by.gives) }) };
}

/** A part's id, of what a seam that joins it calls it. */
function partIdOf(called: string): string {
  return partRef(called) ? called : partId({ of: 'body', body: called });
}

function areOnePart(a: string, b: string): boolean {
  return partIdOf(a) === partIdOf(b);
}

/** How two bodies that overlap are to nest. */
export interface Nesting {
  /** Which one gives way; null where that is left to the engine. */
  gives: Side | null;
  gapMm: number;
  rimMm: number;
  flat: SeamFlat | null;
}

/** How a seam's bodies are to nest where they overlap; null for one that divides a part. */
export function nestingOf(by: SeamSpec): Nesting | null {
  if (by.kind !== 'contact') return null;
  const { bodies, gives, nestGapMm = 0, rimMm = USUAL_RIM_MM, flat = null } = by;
  const side = gives === undefined ? null : areOnePart(bodies[0], gives) ? 'front' : 'back';
  return { gives: side, gapMm: nestGapMm, rimMm, flat };
}

/** The seam with its bodies nesting otherwise; what is as usual is left out of the job. */
export function withNesting(by: SeamSpec, change: Partial<Nesting>): SeamSpec {
  const old = nestingOf(by);
  if (by.kind !== 'contact' || old === null) return by;
  const { gives, gapMm, rimMm, flat } = { ...old, ...change };
  return {
    kind: by.kind,
    bodies: by.bodies,
    ...(gives && { gives: by.bodies[gives === 'front' ? 0 : 1] }),
    ...(gapMm > 0 && { nestGapMm: gapMm }),
    ...(rimMm !== USUAL_RIM_MM && { rimMm }),
    ...(flat && { flat }),
  };
}

/** The plane by which a hand holds the seam, a flat's where one is set across; null for one that lies where its bodies do. */
export function heldPlane(by: SeamSpec): SeamPlane | null {
  if (by.kind === 'plane') return { normal: by.normal, offsetMm: by.offsetMm };
  if (by.kind !== 'contact' || !by.flat) return null;
  const { at, normal } = by.flat;
  const along = at.reduce((sum, value, k) => sum + value * normal[k], 0);
  return { normal, offsetMm: along / Math.hypot(...normal) };
}

/** The line of a seam that is swept from one, and how; null for one that is not. */
export function sweptLine(by: SeamSpec): SweptLine | null {
  if (by.kind !== 'sheet') return null;
  const { line, along, runs, flats = [] } = by;
  return { line, along, runs, flats };
}

/** A line that a seam is swept from, and how. */
export interface SweptLine {
  line: readonly Vec3[];
  along: Vec3;
  runs: SheetSpec['runs'];
  flats: readonly { at: Vec3; widthMm: number }[];
}

/** The seam swept from another line, or swept from one from here on; outlines that were meant are where they are. */
export function withLine(by: SeamSpec, patch: Partial<SweptLine>): SeamSpec {
  const { line, along, runs, flats } = { ...sweptLine(by), ...patch };
  if (!line || !along) return by;
  const { through } = by.kind === 'sheet' ? by : {};
  return {
    ...sheetSeam(line, along, runs),
    ...(flats && flats.length > 0 && { flats: [...flats] }),
    ...(through && { through }),
  };
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
