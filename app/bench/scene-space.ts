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

type StandingPart = Pick<PartView, 'away' | 'boundsMm'>;

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

/** The box around a figure and its parts, or those `shown`, pulled apart by `explode`, the file's coordinates. */
export function pulledBounds(
  boundsMm: Bounds,
  parts: readonly StandingPart[],
  explode: number,
  figure: Ball,
  shown: readonly StandingPart[] = parts,
): Bounds {
  const standing = standingWay(parts);
  const first = shown.length < parts.length ? shown[0]?.boundsMm : undefined;
  const min: [number, number, number] = [...(first ?? boundsMm).min];
  const max: [number, number, number] = [...(first ?? boundsMm).max];
  for (const part of shown) {
    const by = pulled(part.away, standing, explode, figure);
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
