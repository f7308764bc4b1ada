import type { SculptSummary, Vec3 } from '../../src/index.ts';

/** The scene's coordinates are the file's with `originMm` taken away, so that single precision holds. */
export const toScene = (summary: SculptSummary, p: Vec3): Vec3 => [
  p[0] - summary.originMm[0],
  p[1] - summary.originMm[1],
  p[2] - summary.originMm[2],
];

export const toFile = (summary: SculptSummary, p: Vec3): Vec3 => [
  p[0] + summary.originMm[0],
  p[1] + summary.originMm[1],
  p[2] + summary.originMm[2],
];

export interface Ball {
  centre: Vec3;
  radius: number;
}

/** The ball around a box, scene coordinates. */
export function ballAround(summary: SculptSummary, { min, max }: SculptSummary['boundsMm']): Ball {
  const middle: Vec3 = [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2, (min[2] + max[2]) / 2];
  const radius = Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]) / 2;
  return { centre: toScene(summary, middle), radius };
}

/** How far parts move at full pull, as a share of the figure's radius. */
const FULL_PULL = 0.6;

/**
 * Where a part stands when the parts are pulled apart by `explode` (0 to 1). The part that stands on
 * the bed, whose own way is `standing`, stays where it is and the others move away from it.
 */
export const pulled = (away: Vec3, standing: Vec3, explode: number, figure: Ball): Vec3 => {
  const far = explode * FULL_PULL * figure.radius;
  return [(away[0] - standing[0]) * far, (away[1] - standing[1]) * far, (away[2] - standing[2]) * far];
};
