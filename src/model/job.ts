import { z } from 'zod';
import { PegwrightError } from '../errors.ts';
import { jobFault, rule } from './job-fault.ts';
import type { AskedJoint, JointField } from './joint.ts';
import { LIMITS } from './limits.ts';
import { mendSchema } from './mend.ts';
import { JOB_VERSION, migrated } from './migrate.ts';
import { outlineFault, outlineOfPath } from './outline.ts';
import { partId, SCULPT } from './part-ref.ts';
import { seamSpecSchema } from './seam-schema.ts';
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

/** Kinds of joints by their names, with what can be asked of each. */
export type KindFields = Readonly<
  Record<string, { fields: readonly JointField[] /** An outline of its own as well. */; hasOutline: boolean }>
>;

/** An outline by its corners, or as the data of an SVG path; it is corners from then on. */
const outlineSchema = z.preprocess(
  (given, check) => {
    if (typeof given !== 'string') return given;
    const read = outlineOfPath(given);
    if ('outline' in read) return read.outline;
    check.addIssue({ code: 'custom', params: { outline: read.fault }, input: given });
    return z.NEVER;
  },
  z
    .array(z.tuple([z.number(), z.number()]).readonly())
    .superRefine((outline, check) => {
      const fault = outlineFault(outline);
      if (fault) check.addIssue({ code: 'custom', params: { outline: fault }, input: outline });
    })
    .readonly(),
);

const jointSchema = (kinds: KindFields) =>
  z.discriminatedUnion(
    'kind',
    Object.entries(kinds).map(([kind, { fields, hasOutline }]) =>
      z.strictObject({
        id: name,
        kind: z.literal(kind),
        at: z.union([vec3, z.literal('auto')]),
        ...Object.fromEntries(fields.map((field) => [field.name, within(field.limits).optional()])),
        ...(hasOutline && { outlineMm: outlineSchema }),
      }),
    ) as unknown as [z.ZodObject],
  ) as unknown as z.ZodType<AskedJoint>;

const seamSchema = (kinds: KindFields) =>
  z
    .strictObject({
      id: name,
      /** The part this seam divides, see `partRef`. */
      of: z.string().default(partId(SCULPT)),
      by: seamSpecSchema,
      pegOn: z.enum(['front', 'back']).default('back'),
      names: z.strictObject({ front: name, back: name }),
      joints: z.array(jointSchema(kinds)).max(LIMITS.pegsPerSeam).default([]),
    })
    .refine(({ joints }) => areUnlike(joints.map(({ id }) => id)), {
      path: ['joints'],
      ...rule('id-shared'),
    });

const areUnlike = (ids: readonly string[]): boolean => new Set(ids).size === ids.length;

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

const jobSchema = (kinds: KindFields) =>
  z
    .strictObject({
      format: z.literal('pegwright-job'),
      version: z.literal(JOB_VERSION),
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
      seams: z.array(seamSchema(kinds)).max(LIMITS.seams),
    })
    .refine(({ seams }) => areUnlike(seams.map(({ id }) => id)), {
      path: ['seams'],
      ...rule('id-shared'),
    });

export type Job = z.output<ReturnType<typeof jobSchema>>;
export type Seam = Job['seams'][number];
export type Process = Job['process'];
export type Turn = NonNullable<Job['sculpt']['turn']>;

/**
 * A job from parsed JSON of this version or an earlier one, with joints of these kinds.
 * @throws PegwrightError `job-version` for a document newer than this engine,
 *   `job-invalid` naming the first field that is wrong as the document has it.
 */
export function parseJob(file: string, json: unknown, kinds: KindFields): Job {
  const version = (json as { version?: unknown } | null)?.version;
  if (typeof version === 'number' && version > JOB_VERSION) {
    throw new PegwrightError('job-version', { file, version, newest: JOB_VERSION });
  }
  const { json: newest, was, strange } = migrated(json);
  if (strange) {
    const where = strange.path.join('.');
    throw new PegwrightError('job-invalid', {
      file,
      where,
      fault: { is: 'keys-unknown', keys: strange.keys },
    });
  }
  const result = jobSchema(kinds).safeParse(newest);
  if (result.success) return result.data;
  const issue = result.error.issues[0]!;
  throw new PegwrightError('job-invalid', {
    file,
    where: was(issue.path).join('.'),
    fault: jobFault(issue, newest),
  });
}
