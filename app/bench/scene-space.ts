import type { SculptSummary, Vec3 } from '../../src/index.ts';

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

/** The ball around a figure's box, scene coordinates. */
export function ballAround(stage: Stage): Ball {
  const { min, max } = stage.boundsMm;
  const middle: Vec3 = [(min[0] + max[0]) / 2, (min[1] + max[1]) / 2, (min[2] + max[2]) / 2];
  const radius = Math.hypot(max[0] - min[0], max[1] - min[1], max[2] - min[2]) / 2;
  return { centre: toScene(stage, middle), radius };
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
