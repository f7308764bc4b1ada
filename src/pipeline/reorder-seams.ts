import { type OrderFault, PegwrightError } from '../errors.ts';
import type { Kernel } from '../kernel/load.ts';
import { fromFrame } from '../math/plane.ts';
import { loopArea, regionArea } from '../math/polygon.ts';
import { add, sub, type Vec3 } from '../math/vec3.ts';
import { facetsOf, type Part } from '../mesh/part/part.ts';
import { partFacts, patchFacts } from '../mesh/part/part-facts.ts';
import type { Job, Seam } from '../model/job.ts';
import type { Side } from '../model/part-ref.ts';
import type { SeamSpec } from '../model/seam-schema.ts';
import { rounded, throughOf, withThrough } from '../model/seam-spec.ts';
import { dividedSide, type RenamedPart, swapSeams, turnSeamsOver } from '../model/swap-seams.ts';
import type { SculptPlace } from '../seam/kind.ts';
import { seamKind } from '../seam/kinds.ts';
import type { CutCache, CutTree, PlainPart } from './cut-step.ts';

/** A job's seams in another order, with the part that goes by another id then; null where none does. */
export interface Reordering {
  seams: Job['seams'];
  renamed: RenamedPart | null;
}

/** Where a seam is moved to among those of its job: a place earlier or later. */
export type OrderStep = 'earlier' | 'later';

/** Cuts a job; a seam without its part waits. */
type CutJob = (job: Job, cache: CutCache) => CutTree;

/** Parts are the same where volume, area and box differ by less: a cut that is cut again rounds its corners otherwise. */
const SAME_SHARE = 1e-5;

/**
 * A job's seams with one of them moved a place, so that all parts come out as they did. Where the later of two divides a side
 * of the earlier, it is given the whole part and the other the side of it that it lies in; where its plane meets more of the
 * whole, it keeps to the outlines that it cuts now. A seam that waits is moved as it is.
 * @throws PegwrightError `seam-order-fixed`, with what stands against it.
 */
export function reorderSeams(
  kernel: Kernel,
  cut: CutJob,
  job: Job,
  seamId: string,
  step: OrderStep,
  place: SculptPlace,
): Reordering {
  const at = job.seams.findIndex(({ id }) => id === seamId);
  const later = step === 'earlier' ? at : at + 1;
  if (at < 0 || later < 1 || later >= job.seams.length) return { seams: job.seams, renamed: null };
  const cache: CutCache = new Map();
  const before = cut(job, cache);
  const cutAnew = (seams: Job['seams']) => cut({ ...job, seams }, new Map(cache));
  const refuse = (why: OrderFault): never => {
    const past = job.seams[step === 'earlier' ? at - 1 : at + 1].id;
    throw new PegwrightError('seam-order-fixed', { seamId, past, why });
  };
  const pair = [job.seams[later - 1].id, job.seams[later].id];
  const plain = swapSeams(job.seams, later);
  const side = dividedSide(job.seams, later);
  const isIdle = pair.some((id) => isWaiting(before, id));
  if (side === null || isIdle) {
    const lost = newlyWaiting(before, cutAnew(plain));
    return lost === null ? { seams: plain, renamed: null } : refuse({ is: 'loses-part', seamId: lost });
  }
  for (const by of waysToCut(kernel, job.seams[later], cache, place)) {
    for (const between of ['front', 'back'] as const) {
      const turned = turnSeamsOver(withBy(job.seams, later, by), later, side, between);
      if (comesOutAlike(before, cutAnew, turned)) return turned;
    }
  }
  return refuse(faultOf(kernel, job, later, side, cache, place));
}

const isWaiting = ({ waiting }: CutTree, id: string): boolean => waiting.some(({ seam }) => seam.id === id);

/** A seam that waits after and did not before; null where there is none. */
const newlyWaiting = (before: CutTree, after: CutTree): string | null =>
  after.waiting.find(({ seam }) => !isWaiting(before, seam.id))?.seam.id ?? null;

const withBy = (seams: Job['seams'], at: number, by: SeamSpec): Job['seams'] =>
  seams.map((seam, i) => (i === at ? { ...seam, by } : seam));

/** How a seam may cut something larger: as it does, and by the outlines alone that it cuts now. */
function waysToCut(kernel: Kernel, { id, by }: Seam, cache: CutCache, place: SculptPlace): SeamSpec[] {
  const of = cache.get(id)?.of;
  if (!of || throughOf(by) !== null) return [by];
  const onEach = seamKind(by)
    .outline(kernel, of, by, place)
    .flatMap(({ frame, loops }) =>
      loops
        .filter((loop) => loopArea(loop) > 0)
        .map((loop) => rounded(add(fromFrame(frame, [loop[0], loop[1]]), place.originMm))),
    );
  return [by, withThrough(by, onEach)];
}

/** True where seams that changed places make the parts that there were. */
function comesOutAlike(
  before: CutTree,
  cutAnew: (seams: Job['seams']) => CutTree,
  { seams, renamed: { was, is } }: { seams: Job['seams']; renamed: RenamedPart },
): boolean {
  const after = cutIfAny(() => cutAnew(seams));
  if (after === null || newlyWaiting(before, after) !== null) return false;
  if (after.waiting.length !== before.waiting.length || after.parts.length !== before.parts.length)
    return false;
  return before.parts.every(({ id, part }) => {
    const now = after.parts.find((one: PlainPart) => one.id === (id === was ? is : id));
    return now !== undefined && isSamePart(part, now.part);
  });
}

/** What a seam of a kind that refuses to cut so comes to: null, it is no way to go. */
function cutIfAny(cut: () => CutTree): CutTree | null {
  try {
    return cut();
  } catch (thrown) {
    if (thrown instanceof PegwrightError) return null;
    throw thrown;
  }
}

/** Equal but for rounding, with as much of every seam's face on it. */
function isSamePart(a: Part, b: Part): boolean {
  const [one, other] = [partFacts(a), partFacts(b)];
  const size = Math.max(...sub(one.bounds.max, one.bounds.min));
  const near = (x: number, y: number, unit: number) => Math.abs(x - y) <= SAME_SHARE * unit;
  const nearPlaces = (p: Vec3, q: Vec3) => p.every((v, k) => near(v, q[k], size));
  const [faces, others] = [faceAreas(a), faceAreas(b)];
  return (
    one.shells === other.shells &&
    near(one.volumeMm3, other.volumeMm3, one.volumeMm3) &&
    near(one.areaMm2, other.areaMm2, one.areaMm2) &&
    nearPlaces(one.bounds.min, other.bounds.min) &&
    nearPlaces(one.bounds.max, other.bounds.max) &&
    faces.size === others.size &&
    [...faces].every(([seamId, area]) => near(area, others.get(seamId) ?? 0, one.areaMm2))
  );
}

/** Area of the faces that seams gave a part, by seam, mm². */
function faceAreas(part: Part): Map<string, number> {
  const areas = new Map<string, number>();
  for (const patch of part.patches) {
    if (patch.of.kind === 'skin') continue;
    for (const { seamId } of facetsOf(patch.of))
      areas.set(seamId, (areas.get(seamId) ?? 0) + patchFacts(part, patch).areaMm2);
  }
  return areas;
}

/** What stands against two seams changing places of which the later divides a `side` of the earlier. */
function faultOf(
  kernel: Kernel,
  job: Job,
  later: number,
  side: Side,
  cache: CutCache,
  place: SculptPlace,
): OrderFault {
  const [first, second] = [job.seams[later - 1], job.seams[later]];
  const areaOf = (of: readonly Part[] | undefined) =>
    (of ? seamKind(second.by).outline(kernel, of, second.by, place) : []).reduce(
      (sum, { loops }) => sum + regionArea(loops),
      0,
    );
  const [whole, own] = [areaOf(cache.get(first.id)?.of), areaOf(cache.get(second.id)?.of)];
  const other = side === 'front' ? 'back' : 'front';
  return whole > own * (1 + SAME_SHARE)
    ? { is: 'cuts-more', seamId: second.id, part: first.names[other] }
    : { is: 'parts-otherwise', seamId: second.id };
}
