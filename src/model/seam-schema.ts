import { z } from 'zod';
import { rule } from './job-fault.ts';
import { LIMITS } from './limits.ts';
import { partId, partRef } from './part-ref.ts';

/** How a seam divides: what kinds of seams there are in a job. */

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

/** A part's id, of what a seam that joins it calls it. */
export function partIdOf(called: string): string {
  return partRef(called) ? called : partId({ of: 'body', body: called });
}

export function areOnePart(a: string, b: string): boolean {
  return partIdOf(a) === partIdOf(b);
}
