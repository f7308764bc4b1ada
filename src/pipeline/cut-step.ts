import { PegwrightError } from '../errors.ts';
import type { Kernel } from '../kernel/load.ts';
import { sub } from '../math/vec3.ts';
import { middleOf } from '../mesh/measure.ts';
import { type Part, partOf } from '../mesh/part/part.ts';
import type { Job, Seam } from '../model/job.ts';
import { partLookup } from '../model/part-lookup.ts';
import { bareName, bodyIds, partId, SCULPT } from '../model/part-ref.ts';
import { needsBodies, partsOf } from '../model/part-tree.ts';
import { isSameSeam, type SeamSpec } from '../model/seam-spec.ts';
import type { Cut } from '../seam/cut.ts';
import type { SculptPlace } from '../seam/kind.ts';
import { seamKind } from '../seam/kinds.ts';
import { bodiesIn, calledIn } from './bodies.ts';
import type { Sculpt } from './sculpt.ts';

/** A part that no further seam divides, still without joints. */
export interface PlainPart {
  /** "sculpt", "body:<name or number>", or "<seam id>.front" / "<seam id>.back" of the last seam that made it. */
  id: string;
  name: string;
  part: Part;
  /** Which side of each seam on its way it lies on. */
  sides: ReadonlyMap<string, 'front' | 'back'>;
}

export interface CutSeam {
  seam: Seam;
  cut: Cut;
}

export interface CutTree {
  parts: PlainPart[];
  seams: CutSeam[];
}

/** Cuts kept from one evaluation to the next: a seam is cut again only when it or what it is of has changed. */
export type CutCache = Map<string, { of: readonly Part[]; by: SeamSpec; cut: Cut }>;

/**
 * Applies a job's seams in order.
 * @throws PegwrightError `seam-part-unknown`, `seam-misses`, or what the seam's kind refuses.
 */
export function cutStep(
  kernel: Kernel,
  job: Job,
  sculpt: Sculpt,
  whole: Part,
  cache: CutCache,
  onProgress: (done: number) => void,
): CutTree {
  const name = bareName(job.sculpt.file);
  const parts = new Map<string, PlainPart>([
    [partId(SCULPT), { id: partId(SCULPT), name, part: whole, sides: new Map() }],
  ]);
  let lookup = partLookup([]);
  let isApart = false;
  const seams: CutSeam[] = [];
  const place = placeOf(sculpt);
  job.seams.forEach((seam, i) => {
    onProgress(i / job.seams.length);
    if (needsBodies(seam) && parts.delete(partId(SCULPT))) {
      const bodies = bodiesIn(sculpt);
      const names = bodies.map((body) => body.name);
      lookup = partLookup(names);
      isApart = true;
      bodyIds(names).forEach((id, k) => {
        parts.set(id, { id, name: calledIn(name, bodies[k]), part: bodies[k].part, sides: new Map() });
      });
    }
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
    const cut = cutCached(
      kernel,
      of.map(({ part }) => part),
      seam,
      place,
      cache,
    );
    for (const { id } of of) parts.delete(id);
    for (const side of ['front', 'back'] as const) {
      if (cut[side].patches.length === 0) throw new PegwrightError('seam-misses', { seamId: seam.id });
      // Of two that are joined the second is the back.
      const from = of[side === 'front' ? 0 : of.length - 1];
      const id = partId({ of: 'seam', seamId: seam.id, side });
      if (of.length > 1) lookup.rename(from.id, id);
      const sides = new Map(from.sides).set(seam.id, side);
      parts.set(id, { id, name: seam.names[side], part: cut[side], sides });
    }
    seams.push({ seam, cut });
  });
  for (const id of cache.keys()) if (!job.seams.some((seam) => seam.id === id)) cache.delete(id);
  return { parts: [...parts.values()], seams };
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
  const cut = seamKind(by).cut(kernel, of, by, id, place);
  cache.set(id, { of, by, cut });
  return cut;
}

/** Where a sculpt lies, for seams to be laid through it. */
export const placeOf = ({ originMm, boundsMm }: Sculpt): SculptPlace => ({
  originMm,
  middle: sub(middleOf(boundsMm), originMm),
  longestMm: Math.max(...sub(boundsMm.max, boundsMm.min)),
});

/** The whole sculpt as the root of the part tree. */
export const wholePart = (sculpt: Sculpt): Part => partOf(sculpt.mesh);
