import { PegwrightError } from '../errors.ts';
import type { Kernel } from '../kernel/load.ts';
import { sub } from '../math/vec3.ts';
import { middleOf } from '../mesh/measure.ts';
import { type Part, partOf } from '../mesh/part/part.ts';
import type { Job, Seam } from '../model/job.ts';
import { bareName, bodyIds, knownId, partId, partRef, SCULPT } from '../model/part-ref.ts';
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

/** Cuts kept from one evaluation to the next: a seam is cut again only when it or what it divides has changed. */
export type CutCache = Map<string, { of: Part; by: SeamSpec; cut: Cut }>;

/**
 * Applies a job's seams in order.
 * @throws PegwrightError `seam-part-unknown`, `seam-misses`, or what `cutPart` refuses.
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
  let names: readonly string[] = [];
  const seams: CutSeam[] = [];
  const place = placeOf(sculpt);
  job.seams.forEach((seam, i) => {
    onProgress(i / job.seams.length);
    if (partRef(seam.of)?.of === 'body' && parts.delete(partId(SCULPT))) {
      const bodies = bodiesIn(sculpt);
      names = bodies.map((body) => body.name);
      bodyIds(names).forEach((id, k) => {
        parts.set(id, { id, name: calledIn(name, bodies[k]), part: bodies[k].part, sides: new Map() });
      });
    }
    const of = knownId(seam.of, names);
    const parent = parts.get(of);
    if (!parent) {
      const isOfIt = ({ seam: earlier }: CutSeam) => knownId(earlier.of, names) === of;
      // A body is not there by itself where the whole sculpt was divided.
      const isOfAll = ({ seam: earlier }: CutSeam) => names.length === 0 && earlier.of === partId(SCULPT);
      const dividedBy = (seams.find(isOfIt) ?? seams.find(isOfAll))?.seam.id ?? null;
      const there = [...parts.values()].map(({ id, name }) => ({ id, name }));
      throw new PegwrightError('seam-part-unknown', {
        seamId: seam.id,
        of: seam.of,
        dividedBy,
        parts: there,
      });
    }
    const cut = cutCached(kernel, parent.part, seam, place, cache);
    for (const side of ['front', 'back'] as const) {
      if (cut[side].patches.length === 0) throw new PegwrightError('seam-misses', { seamId: seam.id });
      const sides = new Map(parent.sides).set(seam.id, side);
      const id = partId({ of: 'seam', seamId: seam.id, side });
      parts.set(id, {
        id,
        name: seam.names[side],
        part: cut[side],
        sides,
      });
    }
    parts.delete(parent.id);
    seams.push({ seam, cut });
  });
  for (const id of cache.keys()) if (!job.seams.some((seam) => seam.id === id)) cache.delete(id);
  return { parts: [...parts.values()], seams };
}

function cutCached(kernel: Kernel, of: Part, { id, by }: Seam, place: SculptPlace, cache: CutCache): Cut {
  const known = cache.get(id);
  if (known && known.of === of && isSameSeam(known.by, by)) return known.cut;
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
