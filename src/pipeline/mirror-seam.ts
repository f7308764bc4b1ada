import { PegwrightError } from '../errors.ts';
import { mirroredJoint } from '../joint/mirrored-joint.ts';
import type { Kernel } from '../kernel/load.ts';
import { mirroredPlace } from '../math/mirror.ts';
import { nearestOnLoops } from '../math/nearest-on-loops.ts';
import { fromFrame, type PlaneFrame, toFrame } from '../math/plane.ts';
import { pointInside } from '../math/point-inside.ts';
import { type Loop, regionArea, windingAt } from '../math/polygon.ts';
import { regionsOf } from '../math/regions.ts';
import { TOLERANCES } from '../math/tolerances.ts';
import { add, dot, sub, type Vec3 } from '../math/vec3.ts';
import type { Part } from '../mesh/part/part.ts';
import type { Seam } from '../model/job.ts';
import { type MirroredSeam, mirroredSeam } from '../model/mirrored-seam.ts';
import type { SeamSpec } from '../model/seam-schema.ts';
import { planeOf, type SeamPlane, withThrough } from '../model/seam-spec.ts';
import type { SculptPlace, SeamOutline } from '../seam/kind.ts';
import { seamKind } from '../seam/kinds.ts';
import type { CutTree } from './cut-step.ts';

/** The mirror image of a seam, to be applied after all those there are. */
export interface SeamImage extends Pick<Seam, 'of' | 'by' | 'pegOn' | 'joints'> {
  /** Area of the seam's own faces, and of its image's, mm²: the same where the figure is symmetric. */
  areasMm2: readonly [own: number, image: number];
}

/** A place within a region of a seam's face, and how large that region is. */
interface Meant {
  /** In the file's coordinates, mm. */
  at: Vec3;
  areaMm2: number;
}

/**
 * The mirror image of one of a job's seams: of the parts that no seam divides the one it lies in, cut where the image of
 * the seam's own face is and nowhere else, with the images of its joints.
 * @param partsOf what each seam of the tree divides.
 * @throws PegwrightError `seam-not-mirrored`, `mirror-on-seam` or `mirror-misses`.
 */
export function mirrorSeam(
  kernel: Kernel,
  { id: seamId, by, pegOn, joints }: Seam,
  across: SeamPlane,
  tree: CutTree,
  partsOf: (seamId: string) => readonly Part[],
  place: SculptPlace,
): SeamImage {
  const image = mirroredSeam(by, across);
  if (image === null) throw new PegwrightError('seam-not-mirrored', { seamId });
  const outlineOf = (of: readonly Part[], spec: SeamSpec) => seamKind(spec).outline(kernel, of, spec, place);
  const own = outlineOf(partsOf(seamId), by);
  const mirror = planeOf(across);
  const all = meantBy(own, place).map((meant): Meant => ({ ...meant, at: mirroredPlace(mirror, meant.at) }));
  const faces = tree.seams.map(({ seam }) => ({
    id: seam.id,
    outlines: outlineOf(partsOf(seam.id), seam.by),
  }));
  const takenBy = ({ at }: Meant) =>
    faces.find(({ outlines }) => outlines.some((outline) => isOnFace(outline, sub(at, place.originMm))));
  const free = all.filter((meant) => !takenBy(meant));
  if (all.length > 0 && free.length === 0)
    throw new PegwrightError('mirror-on-seam', { seamId, on: takenBy(all[0])?.id ?? seamId });
  const host = hostOf(tree, image, free, outlineOf, place);
  if (host === null) throw new PegwrightError('mirror-misses', { seamId });
  return {
    of: host.id,
    by: host.by,
    pegOn,
    joints: joints.map((joint) => mirroredJoint(joint, image, across)),
    areasMm2: [areaOf(own), areaOf(host.outlines)],
  };
}

/** The part that most of the image lies in, and the seam that cuts there alone; null where it lies in none. */
function hostOf(
  { parts }: CutTree,
  { by }: MirroredSeam,
  meant: readonly Meant[],
  outlinesOf: (of: readonly Part[], by: SeamSpec) => SeamOutline[],
  place: SculptPlace,
): { id: string; by: SeamSpec; outlines: SeamOutline[] } | null {
  let best: { id: string; part: Part; met: Meant[]; metMm2: number } | null = null;
  for (const { id, part } of parts) {
    const outlines = outlinesOf([part], by);
    const shares = meant.map(({ at, areaMm2 }) => {
      const point = sub(at, place.originMm);
      return Math.max(0, ...outlines.map((outline) => metBy(outline, point, areaMm2)));
    });
    const met = meant.filter((_, i) => shares[i] > 0);
    const metMm2 = meant.reduce((sum, { areaMm2 }, i) => sum + shares[i] * areaMm2, 0);
    if (metMm2 > (best?.metMm2 ?? 0)) best = { id, part, met, metMm2 };
  }
  if (best === null) return null;
  const { id, part, met } = best;
  const outlines = outlinesOf([part], by);
  const isMeant = ({ frame, loops }: SeamOutline) =>
    regionsOf(loops).every(([outer]) =>
      met.some(({ at }) => isInside([outer], frame, sub(at, place.originMm))),
    );
  if (outlines.every(isMeant)) return { id, by, outlines };
  // It passes through more of this part than the seam does of its own.
  const bound = withThrough(
    by,
    met.map(({ at }) => at),
  );
  return { id, by: bound, outlines: outlinesOf([part], bound) };
}

const areaOf = (outlines: readonly SeamOutline[]): number =>
  outlines.reduce((sum, { loops }) => sum + regionArea(loops), 0);

/** A place within each region of some outlines. */
const meantBy = (outlines: readonly SeamOutline[], { originMm }: SculptPlace): Meant[] =>
  outlines.flatMap(({ frame, loops }) =>
    regionsOf(loops).map((region) => ({
      at: add(fromFrame(frame, pointInside(region[0])), originMm),
      areaMm2: regionArea(region),
    })),
  );

/** True where a point (recentred mm) lies within one of some outlines, whatever is hollow there, seen square to their plane. */
function isInside(outlines: readonly Loop[], frame: PlaneFrame, point: Vec3): boolean {
  const [x, y] = toFrame(frame, point);
  return outlines.some((outline) => windingAt([outline], x, y) === 1);
}

const isOnFace = ({ frame, loops }: SeamOutline, point: Vec3): boolean =>
  Math.abs(dot(frame.n, sub(point, frame.origin))) < TOLERANCES.noWall && isInside(loops, frame, point);

/**
 * How well an outline meets a point: 1 where it goes round it, half of that where it only passes no farther off than the
 * region that is meant is wide, for no figure is quite symmetric; else 0.
 */
function metBy({ frame, loops }: SeamOutline, point: Vec3, areaMm2: number): number {
  if (loops.length === 0) return 0;
  if (isInside(loops, frame, point)) return 1;
  const [x, y] = toFrame(frame, point);
  return nearestOnLoops(loops, x, y).distance < Math.sqrt(areaMm2 / Math.PI) ? 0.5 : 0;
}
