import type { LostPart } from '../check/finding.ts';
import { PegwrightError } from '../errors.ts';
import type { Kernel } from '../kernel/load.ts';
import { sub } from '../math/vec3.ts';
import { middleOf } from '../mesh/measure.ts';
import { isSamePart } from '../mesh/part/is-same-part.ts';
import { type Part, partOf } from '../mesh/part/part.ts';
import type { Job, Seam } from '../model/job.ts';
import { type PartLookup, partLookup } from '../model/part-lookup.ts';
import { bareName, bodyIds, partId, SCULPT } from '../model/part-ref.ts';
import { needsBodies, partsOf } from '../model/part-tree.ts';
import type { SeamSpec } from '../model/seam-schema.ts';
import { isSameSeam } from '../model/seam-spec.ts';
import type { Cut } from '../seam/cut.ts';
import type { SculptPlace } from '../seam/kind.ts';
import { seamKind } from '../seam/kinds.ts';
import { bodiesIn, calledIn } from './bodies.ts';
import { lostPart } from './lost-part.ts';
import type { Sculpt } from './sculpt.ts';

/** A part that no further seam divides, still without joints. */
export interface PlainPart {
  /** See `partId`: of what made it last. */
  id: string;
  name: string;
  part: Part;
  /** Which side of each seam on its way it lies on. */
  sides: ReadonlyMap<string, 'front' | 'back'>;
}

export interface CutSeam {
  seam: Seam;
  /** What it divided, or the two that it joined, front first. */
  of: readonly Part[];
  cut: Cut;
}

/** A seam that has nothing to cut, and why. */
export interface WaitingSeam {
  seam: Seam;
  why: LostPart;
}

export interface CutTree {
  parts: PlainPart[];
  seams: CutSeam[];
  /** Seams left out until their parts are there, where that was asked for. */
  waiting: WaitingSeam[];
}

/** What becomes of a job with a seam whose part is not there: all of it is refused, or the seam waits and the rest is cut. */
export type OnLostPart = 'refuse' | 'wait';

/** Cuts kept from one evaluation to the next: a seam is cut again only when it or what it is of has changed. */
export type CutCache = Map<string, { of: readonly Part[]; by: SeamSpec; cut: Cut }>;

/** The parts there are after some seams, and what they are called. */
interface PartsThere {
  parts: Map<string, PlainPart>;
  lookup: PartLookup;
  /** The sculpt has been taken apart into its bodies. */
  isApart: boolean;
}

/**
 * Applies a job's seams in order.
 * @throws PegwrightError `seam-part-unknown`, `seam-misses`, or what the seam's kind refuses. Where a seam without its part
 *   is to wait, only what is wrong with a seam that has it.
 */
export function cutStep(
  kernel: Kernel,
  job: Job,
  sculpt: Sculpt,
  whole: Part,
  cache: CutCache,
  onProgress: (done: number) => void,
  onLost: OnLostPart = 'refuse',
): CutTree {
  const name = bareName(job.sculpt.file);
  const root: PlainPart = { id: partId(SCULPT), name, part: whole, sides: new Map() };
  let there: PartsThere = { parts: new Map([[root.id, root]]), lookup: partLookup([]), isApart: false };
  const seams: CutSeam[] = [];
  const waiting: WaitingSeam[] = [];
  const place = placeOf(sculpt);
  job.seams.forEach((seam, i) => {
    onProgress(i / job.seams.length);
    // A seam that waits leaves everything as it is: the sculpt is not taken apart for it either.
    const before = needsBodies(seam) && there.parts.has(root.id) ? takenApart(name, sculpt) : there;
    try {
      const plain = partsFor(seam, before, seams);
      const of = plain.map(({ part }) => part);
      const cut = cutCached(kernel, of, seam, place, cache);
      there = withSides(before, seam, plain, cut);
      seams.push({ seam, of, cut });
    } catch (thrown) {
      const why = onLost === 'wait' ? lostPart(thrown) : null;
      if (why === null) throw thrown;
      if (why.is !== 'misses') cache.delete(seam.id);
      waiting.push({ seam, why });
    }
  });
  for (const id of cache.keys()) if (!job.seams.some((seam) => seam.id === id)) cache.delete(id);
  return { parts: [...there.parts.values()], seams, waiting };
}

/** The sculpt as its bodies, each a part that nothing has divided. */
function takenApart(name: string, sculpt: Sculpt): PartsThere {
  const bodies = bodiesIn(sculpt);
  const names = bodies.map((body) => body.name);
  const parts = bodyIds(names).map((id, k): [string, PlainPart] => {
    const { part } = bodies[k];
    return [id, { id, name: calledIn(name, bodies[k]), part, sides: new Map() }];
  });
  return { parts: new Map(parts), lookup: partLookup(names), isApart: true };
}

/**
 * The part that a seam divides, or the two that it joins.
 * @throws PegwrightError `seam-part-unknown`, `seam-without-contact` for one part named twice.
 */
function partsFor(
  seam: Seam,
  { parts, lookup, isApart }: PartsThere,
  seams: readonly CutSeam[],
): PlainPart[] {
  const of = partsOf(seam).map((named) => {
    const part = parts.get(lookup.idOf(named));
    if (part) return part;
    const isOfIt = ({ seam: earlier }: CutSeam) =>
      partsOf(earlier).some((other) => lookup.idOf(other) === lookup.idOf(named));
    // A body is not there by itself where the whole sculpt was divided.
    const isOfAll = ({ seam: earlier }: CutSeam) => !isApart && earlier.of === partId(SCULPT);
    const dividedBy = (seams.find(isOfIt) ?? seams.find(isOfAll))?.seam.id ?? null;
    const there = [...parts.values()].map(({ id, name: called }) => ({ id, name: called }));
    throw new PegwrightError('seam-part-unknown', { seamId: seam.id, of: named, dividedBy, parts: there });
  });
  const [first, second] = of;
  if (first === second) {
    const [front, back] = partsOf(seam);
    throw new PegwrightError('seam-without-contact', { seamId: seam.id, of: [front, back] });
  }
  return of;
}

/**
 * The parts there are once a seam has taken what it is `of`.
 * @throws PegwrightError `seam-misses`.
 */
function withSides(
  { parts: before, lookup, isApart }: PartsThere,
  { id: seamId, names }: Seam,
  of: readonly PlainPart[],
  cut: Cut,
): PartsThere {
  const sides = ['front', 'back'] as const;
  if (sides.some((side) => cut[side].patches.length === 0))
    throw new PegwrightError('seam-misses', { seamId });
  const parts = new Map(before);
  for (const { id } of of) parts.delete(id);
  for (const side of sides) {
    // Of two that are joined the second is the back.
    const from = of[side === 'front' ? 0 : of.length - 1];
    const id = partId({ of: 'seam', seamId, side });
    if (of.length > 1) lookup.rename(from.id, id);
    const way = new Map(from.sides).set(seamId, side);
    parts.set(id, { id, name: names[side], part: cut[side], sides: way });
  }
  return { parts, lookup, isApart };
}

function cutCached(
  kernel: Kernel,
  of: readonly Part[],
  { id, by }: Seam,
  place: SculptPlace,
  cache: CutCache,
): Cut {
  const known = cache.get(id);
  if (known && known.of.length === of.length && known.of.every((part, i) => part === of[i])) {
    if (isSameSeam(known.by, by)) return known.cut;
  }
  const fresh = seamKind(by).cut(kernel, of, by, id, place);
  const cut = known ? withKnownSides(fresh, known.cut) : fresh;
  cache.set(id, { of, by, cut });
  return cut;
}

/**
 * A cut with the last one's side where it came out the same to the bit: an earlier seam that moved changes what lies beside
 * it, and what later seams make of the rest need not be made again.
 */
const withKnownSides = (cut: Cut, known: Cut): Cut => ({
  ...cut,
  front: isSamePart(cut.front, known.front) ? known.front : cut.front,
  back: isSamePart(cut.back, known.back) ? known.back : cut.back,
});

/** Where a sculpt lies, for seams to be laid through it. */
export const placeOf = ({ originMm, boundsMm }: Sculpt): SculptPlace => ({
  originMm,
  middle: sub(middleOf(boundsMm), originMm),
  longestMm: Math.max(...sub(boundsMm.max, boundsMm.min)),
});

/** The whole sculpt as the root of the part tree. */
export const wholePart = (sculpt: Sculpt): Part => partOf(sculpt.mesh);
