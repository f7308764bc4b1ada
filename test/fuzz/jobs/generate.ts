import type { ManifoldToplevel } from 'manifold-3d';
import { binaryStl } from '../../support/mesh-files.ts';
import { LATER_SCENARIOS } from './later-scenarios.ts';
import { type NestPlan, type Plan, type Point, SCENARIOS, type SweepPlan } from './scenarios.ts';
import { type Throws, throwsOf } from './throws.ts';

/** A job for `make` and the figure it is about. The same seed always makes the same. */
export interface FuzzJob {
  seed: number;
  scenario: string;
  /** The figure's file. */
  stl: Uint8Array;
  job: JobDocument;
}

/** How a seam divides, as a job has it. */
export type SeamBy = { kind: 'plane'; normal: Point; offsetMm: number } | NestPlan | SweepPlan;

/** What a job document says, whatever its version. */
export interface JobDocument {
  sculpt: { file: string };
  process: { name: string; sideGapMm: number; endGapMm: number; minWallMm: number; bedMm: Point };
  seams: {
    id: string;
    of: string;
    by: SeamBy;
    pegOn: 'front' | 'back';
    names: { front: string; back: string };
    pegs: ({ kind: 'taper'; at: Point | 'auto' } & Record<string, unknown>)[];
  }[];
}

/** Seeds from here on are about what came later: the jobs of earlier ones stay what they are. */
export const LATER_FROM = 100_001;

export function fuzzJob(kernel: ManifoldToplevel, seed: number): FuzzJob {
  const throws = throwsOf(seed);
  const [scenario, , make] = pickScenario(throws, seed < LATER_FROM ? SCENARIOS : LATER_SCENARIOS);
  const plan = make(throws, kernel);
  return { ...jobFrom(scenario, plan, poseOf(throws)), seed };
}

/** The job of a plan, its figure standing as it is where no pose is given. */
export const jobFrom = (scenario: string, plan: Plan, pose: Pose = AS_IT_IS): FuzzJob => ({
  seed: 0,
  scenario,
  stl: stlOf(plan, pose),
  job: documentOf(plan, pose),
});

function pickScenario(throws: Throws, scenarios: typeof SCENARIOS) {
  const thrown = throws.between(0, 100);
  let upTo = 0;
  for (const scenario of scenarios) {
    upTo += scenario[1];
    if (thrown < upTo) return scenario;
  }
  return scenarios[0];
}

/** Where the figure stands in its file: a turn and a move. */
interface Pose {
  /** Rows of the rotation. */
  turn: readonly [Point, Point, Point];
  shift: Point;
}

const UNTURNED: Pose['turn'] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];
const AS_IT_IS: Pose = { turn: UNTURNED, shift: [0, 0, 0] };

const dot = (a: Point, b: Point): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
const turned = ({ turn }: Pose, p: Point): Point => [dot(turn[0], p), dot(turn[1], p), dot(turn[2], p)];
const placedAt = (pose: Pose, p: Point): Point => {
  const [x, y, z] = turned(pose, p);
  return [x + pose.shift[0], y + pose.shift[1], z + pose.shift[2]];
};

/** Mostly as it is, often turned, now and then far from the file's origin. */
function poseOf(throws: Throws): Pose {
  const shift: Point = throws.chance(0.8)
    ? [0, 0, 0]
    : ([throws.one([0, 1, -1, 0.37]), throws.one([0, 1, 0.21]), 1].map(
        (v) => v * throws.one([100, 1000, 12345.6, 1e5, 1e6]),
      ) as unknown as Point);
  if (throws.chance(0.6)) return { turn: UNTURNED, shift };
  const [a, b] = [throws.between(0, 7), throws.between(0, 3)];
  const [ca, sa, cb, sb] = [Math.cos(a), Math.sin(a), Math.cos(b), Math.sin(b)];
  return {
    turn: [
      [ca, -sa * cb, sa * sb],
      [sa, ca * cb, -ca * sb],
      [0, sb, cb],
    ],
    shift,
  };
}

function stlOf({ figure: { positions, triangles } }: Plan, pose: Pose): Uint8Array {
  const corners = Array.from({ length: positions.length / 3 }, (_, v) =>
    placedAt(pose, [positions[v * 3], positions[v * 3 + 1], positions[v * 3 + 2]]),
  );
  return binaryStl(
    Array.from({ length: triangles.length / 3 }, (_, t) =>
      [0, 1, 2].flatMap((k) => corners[triangles[t * 3 + k]]),
    ),
  );
}

function documentOf({ seams, sideGapMm, endGapMm, minWallMm }: Plan, pose: Pose): JobDocument {
  return {
    sculpt: { file: 'figure.stl' },
    process: { name: 'resin', sideGapMm, endGapMm, minWallMm, bedMm: [140, 140, 170] },
    seams: seams.map((seam) => {
      const { id, of, pegOn, pegs } = seam;
      return {
        id,
        of,
        by: byOf(seam, pose),
        pegOn,
        names: { front: `${id} front`, back: `${id} back` },
        pegs: pegs.map((peg) => ({
          kind: 'taper' as const,
          ...peg,
          at: peg.at === 'auto' ? peg.at : placedAt(pose, peg.at),
        })),
      };
    }),
  };
}

/** How a seam divides the figure where it stands. */
function byOf(seam: Plan['seams'][number], pose: Pose): SeamBy {
  if (!seam.by) {
    const along = turned(pose, seam.normal);
    const offsetMm = seam.offsetMm + dot(along, pose.shift) / Math.hypot(...seam.normal);
    return { kind: 'plane', normal: along, offsetMm };
  }
  if (seam.by.kind === 'sheet') {
    const { line, along } = seam.by;
    return { ...seam.by, line: line.map((p) => placedAt(pose, p)), along: turned(pose, along) };
  }
  const { flat } = seam.by;
  return {
    ...seam.by,
    flat: flat && { at: placedAt(pose, flat.at), normal: turned(pose, flat.normal) },
  };
}
