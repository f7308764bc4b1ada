import { PegwrightError } from '../errors.ts';
import type { Kernel } from '../kernel/load.ts';
import { movePlane, type Plane, plane } from '../math/plane.ts';
import { sub, type Vec3 } from '../math/vec3.ts';
import { middleOf } from '../mesh/measure.ts';
import { type Part, partOf } from '../mesh/part/part.ts';
import type { Job, Seam } from '../model/job.ts';
import { type Cut, cutPart } from '../seam/cut.ts';
import { requireWholeCut } from './require-whole-cut.ts';
import type { Sculpt } from './sculpt.ts';

/** A part that no further seam divides, still without joints. */
export interface PlainPart {
  /** "sculpt", or "<seam id>.front" / "<seam id>.back" of the last seam that made it. */
  id: string;
  name: string;
  part: Part;
  /** Which side of each seam on its way it lies on. */
  sides: ReadonlyMap<string, 'front' | 'back'>;
}

export interface CutSeam {
  seam: Seam;
  /** In recentred coordinates. */
  plane: Plane;
  cut: Cut;
}

export interface CutTree {
  parts: PlainPart[];
  seams: CutSeam[];
}

/** Cuts kept from one evaluation to the next: a seam is cut again only when it or what it divides has changed. */
export type CutCache = Map<string, { of: Part; plane: Plane; cut: Cut }>;

/**
 * Applies a job's seams in order.
 * @throws PegwrightError `seam-part-unknown`, `seam-misses`, `seam-bounded`, or the kernel's refusals.
 */
export function cutStep(
  kernel: Kernel,
  job: Job,
  sculpt: Sculpt,
  whole: Part,
  cache: CutCache,
  onProgress: (done: number) => void,
): CutTree {
  const parts = new Map<string, PlainPart>([
    ['sculpt', { id: 'sculpt', name: bareName(job.sculpt.file), part: whole, sides: new Map() }],
  ]);
  const seams: CutSeam[] = [];
  // Every face is drawn around the point of its plane nearest to the figure's middle.
  const middle = sub(middleOf(sculpt.boundsMm), sculpt.originMm);
  job.seams.forEach((seam, i) => {
    onProgress(i / job.seams.length);
    const parent = parts.get(seam.of);
    if (!parent) {
      const dividedBy = seams.find(({ seam: earlier }) => earlier.of === seam.of)?.seam.id ?? null;
      const there = [...parts.values()].map(({ id, name }) => ({ id, name }));
      throw new PegwrightError('seam-part-unknown', {
        seamId: seam.id,
        of: seam.of,
        dividedBy,
        parts: there,
      });
    }
    const pl = movePlane(plane(seam.plane.normal, seam.plane.offsetMm), sculpt.originMm);
    const cut = cutCached(kernel, parent.part, pl, seam.id, middle, cache);
    requireWholeCut(seam, cut, sculpt.originMm);
    for (const side of ['front', 'back'] as const) {
      if (cut[side].patches.length === 0) throw new PegwrightError('seam-misses', { seamId: seam.id });
      const sides = new Map(parent.sides).set(seam.id, side);
      parts.set(`${seam.id}.${side}`, {
        id: `${seam.id}.${side}`,
        name: seam.names[side],
        part: cut[side],
        sides,
      });
    }
    parts.delete(seam.of);
    seams.push({ seam, plane: pl, cut });
  });
  for (const id of cache.keys()) if (!job.seams.some((seam) => seam.id === id)) cache.delete(id);
  return { parts: [...parts.values()], seams };
}

function cutCached(kernel: Kernel, of: Part, pl: Plane, seamId: string, near: Vec3, cache: CutCache): Cut {
  const known = cache.get(seamId);
  if (known && known.of === of && samePlane(known.plane, pl)) return known.cut;
  const cut = cutPart(kernel, of, pl, seamId, near);
  cache.set(seamId, { of, plane: pl, cut });
  return cut;
}

const samePlane = (a: Plane, b: Plane): boolean =>
  a.offset === b.offset && a.normal.every((v, k) => v === b.normal[k]);

/** A file's name without folders and endings. */
export const bareName = (file: string): string =>
  (file.split(/[/\\]/).pop() ?? file).replace(/(\.gz)?$/i, '').replace(/\.[a-z0-9]{1,5}$/i, '') || 'part';

/** The whole sculpt as the root of the part tree. */
export const wholePart = (sculpt: Sculpt): Part => partOf(sculpt.mesh);
