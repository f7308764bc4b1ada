import { z } from 'zod';
import { PegwrightError } from '../errors.ts';
import { jobFault, rule } from './job-fault.ts';
import { LIMITS } from './limits.ts';
import { mendSchema } from './mend.ts';
import { UNITS } from './units.ts';

/**
 * The job document: everything a person decided, and nothing computed.
 * Coordinates and lengths are mm in the coordinates of the sculpt's file
 * (its unit, scale and turn applied); angles are degrees.
 */

const vec3 = z.tuple([z.number(), z.number(), z.number()]).readonly();
const within = ([low, high]: readonly [number, number]) => z.number().min(low).max(high);
const name = z.string().trim().min(1).max(80);

const gaps = { sideGapMm: within(LIMITS.sideGapMm), endGapMm: within(LIMITS.endGapMm) };

const pegSchema = z.strictObject({
  kind: z.literal('taper'),
  /** A point on the face, or "auto" to let the engine place and size the peg. */
  at: z.union([vec3, z.literal('auto')]),
  widthMm: within(LIMITS.pegWidthMm).optional(),
  heightMm: within(LIMITS.pegWidthMm).optional(),
  lengthMm: within(LIMITS.pegLengthMm).optional(),
  draftDeg: within(LIMITS.draftDeg).optional(),
  edgeRadiusMm: within(LIMITS.edgeRadiusMm).optional(),
  spinDeg: z.number().min(-360).max(360).optional(),
  sideGapMm: gaps.sideGapMm.optional(),
  endGapMm: gaps.endGapMm.optional(),
});

const seamSchema = z.strictObject({
  id: name,
  /** The part this seam divides: "sculpt", or "<seam id>.front" / "<seam id>.back" of an earlier seam. */
  of: z.string().default('sculpt'),
  plane: z.strictObject({
    normal: vec3.refine((n) => Math.hypot(...n) > 1e-9, rule('no-direction')),
    offsetMm: z.number(),
  }),
  /** Points on the outlines meant, where the plane meets the part in several places; none: all of them. */
  through: z.array(vec3).min(1).optional(),
  pegOn: z.enum(['front', 'back']).default('back'),
  names: z.strictObject({ front: name, back: name }),
  pegs: z.array(pegSchema).max(LIMITS.pegsPerSeam).default([]),
});

const processSchema = z.strictObject({
  name,
  ...gaps,
  minWallMm: within(LIMITS.minWallMm),
  bedMm: z.tuple([z.number().positive(), z.number().positive(), z.number().positive()]).readonly(),
});

/** How far a quaternion's length may be from 1, for the digits a person writes. */
const UNIT_SLACK = 1e-3;

/** A turn as a unit quaternion x, y, z, w. */
const turnSchema = z
  .tuple([z.number(), z.number(), z.number(), z.number()])
  .readonly()
  .refine((q) => Math.abs(Math.hypot(...q) - 1) <= UNIT_SLACK, rule('no-turn'));

const jobSchema = z
  .strictObject({
    format: z.literal('pegwright-job'),
    version: z.literal(1),
    sculpt: z.strictObject({
      file: z.string().min(1),
      /** Further files of the same figure: other objects, or buffers that the first one names. */
      also: z.array(z.string().min(1)).max(LIMITS.sculptFiles).optional(),
      /** Unit of the numbers in the file; left out: what the file declares, mm where it declares none. */
      unit: z.enum(UNITS).optional(),
      scale: within(LIMITS.scale).default(1),
      /** Turns the file's coordinates about their origin, after unit and scale. */
      turn: turnSchema.optional(),
      /** Changes of shape on opening, in order. */
      mend: z.array(mendSchema).max(LIMITS.mends).optional(),
    }),
    process: processSchema,
    seams: z.array(seamSchema).max(LIMITS.seams),
  })
  .refine((job) => new Set(job.seams.map((s) => s.id)).size === job.seams.length, {
    path: ['seams'],
    ...rule('id-shared'),
  });

export type Job = z.output<typeof jobSchema>;
export type Seam = Job['seams'][number];
export type Peg = Seam['pegs'][number];
export type Process = Job['process'];
export type Turn = NonNullable<Job['sculpt']['turn']>;

const JOB_VERSION = 1;

/**
 * A job from parsed JSON.
 * @throws PegwrightError `job-version` for a document newer than this engine,
 *   `job-invalid` naming the first field that is wrong.
 */
export function parseJob(file: string, json: unknown): Job {
  const version = (json as { version?: unknown } | null)?.version;
  if (typeof version === 'number' && version > JOB_VERSION) {
    throw new PegwrightError('job-version', { file, version, newest: JOB_VERSION });
  }
  const result = jobSchema.safeParse(json);
  if (result.success) return result.data;
  const issue = result.error.issues[0]!;
  throw new PegwrightError('job-invalid', {
    file,
    where: issue.path.join('.'),
    fault: jobFault(issue, json),
  });
}
