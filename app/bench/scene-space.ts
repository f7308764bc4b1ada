import {
  add,
  type BedFit,
  type PartView,
  type SculptSummary,
  turnedVec,
  type Vec3,
} from '../../src/index.ts';

/** What the scene must know of a figure to stand it up: a sculpt's summary, or what is glimpsed of one. */
export type Stage = Pick<SculptSummary, 'originMm' | 'boundsMm'>;

/** The scene's coordinates are the file's with `originMm` taken away, so that single precision holds. */
export const toScene = ({ originMm }: Pick<Stage, 'originMm'>, p: Vec3): Vec3 => [
  p[0] - originMm[0],
  p[1] - originMm[1],
  p[2] - originMm[2],
];

export const toFile = ({ originMm }: Pick<Stage, 'originMm'>, p: Vec3): Vec3 => [
  p[0] + originMm[0],
  p[1] + originMm[1],
  p[2] + originMm[2],
];

export interface Ball {
  centre: Vec3;
  radius: number;
}

type Bounds = Stage['boundsMm'];

/** The ball around a box of the file's coordinates, in the scene's. */
export function ballAround({ originMm, boundsMm: { min, max } }: Stage): Ball {
  const middle: Vec3 = [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2, (min[2] + max[2]) / 2];
  const radius = Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]) / 2;
  return { centre: toScene({ originMm }, middle), radius };
}

/** Corners of the build volume around a part that stays where it is, the floor's four first, each below one of the ceiling's; the file's coordinates. */
export function bedCorners({ turn, middleMm }: BedFit, bedMm: Vec3): Vec3[] {
  const [x, y, z, w] = turn;
  const corner = (across: number, along: number, up: number): Vec3 =>
    add(middleMm, turnedVec([across * bedMm[0], along * bedMm[1], up * bedMm[2]], [-x, -y, -z, w]));
  const ring = [
    [-0.5, -0.5],
    [0.5, -0.5],
    [0.5, 0.5],
    [-0.5, 0.5],
  ] as const;
  return [-0.5, 0.5].flatMap((up) => ring.map(([across, along]) => corner(across, along, up)));
}

/** How far parts move at full pull, as a share of the figure's radius. */
const FULL_PULL = 0.6;

/** Ways off that cancel out to less than this lead nowhere: the part is between others. */
const LEAST_WAY = 0.1;

/** How far a part is drawn out sideways, as a share of the figure's extent that way. */
const CLEAR = 1.1;

type StandingPart = Pick<PartView, 'id' | 'away' | 'boundsMm'>;

/** The own way of the part that stands on the bed: it stays where it is, and the others move away from it. */
export const standingWay = (parts: readonly StandingPart[]): Vec3 =>
  parts.reduce<StandingPart | null>(
    (low, part) => (low && low.boundsMm.min[2] <= part.boundsMm.min[2] ? low : part),
    null,
  )?.away ?? [0, 0, 0];

/** How far a part is moved from its seat when the parts are pulled apart by `explode` (0 to 1). */
export const pulled = (away: Vec3, standing: Vec3, explode: number, figure: Ball): Vec3 => {
  const far = explode * FULL_PULL * figure.radius;
  return [(away[0] - standing[0]) * far, (away[1] - standing[1]) * far, (away[2] - standing[2]) * far];
};

/** How parts are pulled: all of them by `explode` (0 to 1), and some besides, each by itself. */
export interface Pull {
  explode: number;
  /** Their ids. */
  apart: readonly string[];
}

/** How far a part of a figure in this box is moved from its seat. */
export function movedBy(
  part: StandingPart,
  standing: Vec3,
  { explode, apart }: Pull,
  figure: Ball,
  boundsMm: Bounds,
): Vec3 {
  const [x, y, z] = pulled(part.away, standing, explode, figure);
  if (!apart.includes(part.id)) return [x, y, z];
  const own = alone(part, figure, boundsMm);
  return [x + own[0], y + own[1], z + own[2]];
}

/**
 * How far a part goes that is pulled away by itself: off the seams that made it. One between two others, or one that would
 * go down through the bed, is drawn out sideways, clear of the figure.
 */
function alone({ away, boundsMm: own }: StandingPart, figure: Ball, { min, max }: Bounds): Vec3 {
  const norm = Math.hypot(...away);
  const far = FULL_PULL * figure.radius;
  const off: Vec3 = [(away[0] / norm) * far, (away[1] / norm) * far, (away[2] / norm) * far];
  if (norm > LEAST_WAY && own.min[2] + off[2] >= min[2]) return off;
  const [width, depth] = [max[0] - min[0], max[1] - min[1]];
  return width < depth ? [width * CLEAR, 0, 0] : [0, -depth * CLEAR, 0];
}

/** The box around a figure and its parts, or those `shown`, pulled as they are, the file's coordinates. */
export function pulledBounds(
  boundsMm: Bounds,
  parts: readonly StandingPart[],
  pull: Pull,
  figure: Ball,
  shown: readonly StandingPart[] = parts,
): Bounds {
  const standing = standingWay(parts);
  const first = shown.length < parts.length ? shown[0]?.boundsMm : undefined;
  const min: [number, number, number] = [...(first ?? boundsMm).min];
  const max: [number, number, number] = [...(first ?? boundsMm).max];
  for (const part of shown) {
    const by = movedBy(part, standing, pull, figure, boundsMm);
    for (const axis of [0, 1, 2] as const) {
      min[axis] = Math.min(min[axis], part.boundsMm.min[axis] + by[axis]);
      max[axis] = Math.max(max[axis], part.boundsMm.max[axis] + by[axis]);
    }
  }
  return { min, max };
}

/** A box that holds some places too. */
export const withPlaces = ({ min, max }: Bounds, places: readonly Vec3[]): Bounds => {
  const fold = (from: Vec3, choose: (...values: number[]) => number): Vec3 => [
    choose(from[0], ...places.map(([x]) => x)),
    choose(from[1], ...places.map(([, y]) => y)),
    choose(from[2], ...places.map(([, , z]) => z)),
  ];
  return { min: fold(min, Math.min), max: fold(max, Math.max) };
};
