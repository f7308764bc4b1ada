import { memorySource } from '../../src/io/bytes/source.ts';
import { writeStlBinary } from '../../src/io/stl/write.ts';
import type { Mesh } from '../../src/mesh/mesh.ts';
import type { Job } from '../../src/model/job.ts';
import { type AskedJoint, lettersOf } from '../../src/model/joint.ts';
import { readJob } from '../../src/pipeline/read-job.ts';
import { openSculpt, type Sculpt } from '../../src/pipeline/sculpt.ts';

/** A figure opened from the STL file it would be. */
export const sculptOf = (mesh: Mesh): Promise<Sculpt> =>
  openSculpt(memorySource('figure.stl', writeStlBinary(mesh, [0, 0, 0])), { unit: 'mm', scale: 1 });

/** A joint without its id, which tests number by letters: "a", "b" … */
export type PegInput = Omit<AskedJoint, 'id'> & {
  id?: string;
  readonly [name: `${string}Mm` | `${string}Deg`]: number | undefined;
};

/** A seam as a job document has it; what is left out is level at the origin and has no pegs. */
export interface SeamInput {
  id?: string;
  of?: string;
  normal?: readonly [number, number, number];
  offsetMm?: number;
  pegOn?: 'front' | 'back';
  pegs?: PegInput[];
  through?: (readonly [number, number, number])[];
  /** Two bodies that touch or overlap, in place of a plane. */
  bodies?: readonly [string, string];
  /** How they nest, as a job has it beside them. */
  nest?: {
    gives?: string;
    nestGapMm?: number;
    rimMm?: number;
    flat?: { at: readonly number[]; normal: readonly number[] };
  };
  /** A line swept along y, in place of a plane. */
  line?: readonly (readonly [number, number, number])[];
  runs?: 'straight' | 'smooth';
  flats?: readonly { at: readonly [number, number, number]; widthMm: number }[];
}

/** A job on `figure.stl`, checked like any other. */
export function jobOf(seams: readonly SeamInput[], process: Partial<Job['process']> = {}): Job {
  return readJob('job.json', {
    format: 'pegwright-job',
    version: 2,
    sculpt: { file: 'figure.stl' },
    process: {
      name: 'resin',
      sideGapMm: 0.12,
      endGapMm: 0.4,
      minWallMm: 1.2,
      bedMm: [140, 85, 170],
      ...process,
    },
    seams: seams.map(
      ({
        id = 'neck',
        of = 'sculpt',
        normal = [0, 0, 1],
        offsetMm = 0,
        pegOn = 'back',
        pegs = [],
        through,
        bodies,
        nest,
        line,
        runs,
        flats,
      }) => ({
        id,
        of,
        by: bodies
          ? { kind: 'contact', bodies, ...nest }
          : line
            ? {
                kind: 'sheet',
                line,
                along: [0, 1, 0],
                ...(runs && { runs }),
                ...(flats && { flats }),
                ...(through && { through }),
              }
            : { kind: 'plane', normal, offsetMm, ...(through && { through }) },
        pegOn,
        names: { front: `${id} front`, back: `${id} back` },
        joints: pegs.map((peg, i) => ({ id: lettersOf(i + 1), ...peg })),
      }),
    ),
  });
}

/** A peg as tests mostly have it; sizes in mm. */
export const pegWith = (sizes: Partial<PegInput> = {}): PegInput => ({
  kind: 'taper',
  at: [0, 0, 0],
  widthMm: 6,
  heightMm: 5,
  lengthMm: 6,
  ...sizes,
});
