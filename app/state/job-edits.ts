import type { Job, Peg, Process, Seam, SeamResult, Vec3 } from '../../src/index.ts';

/** Changes of a job, each a pure function from one job to the next. Lengths mm, file coordinates. */

export interface SeamPlane {
  normal: Vec3;
  offsetMm: number;
}

/** New values for some of a peg's fields; `undefined` gives a field back to its default. */
export type PegPatch = { [K in Exclude<keyof Peg, 'kind' | 'at'>]?: Peg[K] | undefined } & { at?: Peg['at'] };

const withSeam = (job: Job, seamId: string, change: (seam: Seam) => Seam): Job => ({
  ...job,
  seams: job.seams.map((seam) => (seam.id === seamId ? change(seam) : seam)),
});

export const findSeam = (job: Job, seamId: string | null): Seam | null =>
  job.seams.find((seam) => seam.id === seamId) ?? null;

export const setSeam = (job: Job, seamId: string, patch: Partial<Pick<Seam, 'pegOn' | 'names'>>): Job =>
  withSeam(job, seamId, (seam) => ({ ...seam, ...patch }));

/** Gives a seam another plane; its placed pegs follow along the new normal so that they stay on the face. */
export const setPlane = (job: Job, seamId: string, plane: SeamPlane): Job =>
  withSeam(job, seamId, (seam) => ({
    ...seam,
    plane: { normal: plane.normal, offsetMm: plane.offsetMm },
    pegs: seam.pegs.map((peg) => (peg.at === 'auto' ? peg : { ...peg, at: ontoPlane(plane, peg.at) })),
  }));

/** The point of the plane nearest to `p`, rounded to a ten-thousandth so that jobs stay readable. */
function ontoPlane({ normal, offsetMm }: SeamPlane, p: Vec3): Vec3 {
  const norm = Math.hypot(...normal);
  const n = normal.map((c) => c / norm) as [number, number, number];
  const lift = offsetMm - (n[0] * p[0] + n[1] * p[1] + n[2] * p[2]);
  return [
    roundTo(p[0] + lift * n[0], 1e4),
    roundTo(p[1] + lift * n[1], 1e4),
    roundTo(p[2] + lift * n[2], 1e4),
  ];
}

/** `value` to 1/`perUnit`; never a negative zero, which would not survive a saved file. */
export const roundTo = (value: number, perUnit: number): number => Math.round(value * perUnit) / perUnit + 0;

const withPegs = (job: Job, seamId: string, change: (pegs: Peg[]) => Peg[]): Job =>
  withSeam(job, seamId, (seam) => ({ ...seam, pegs: change(seam.pegs) }));

export const addPeg = (job: Job, seamId: string, at: Peg['at']): Job =>
  withPegs(job, seamId, (pegs) => [...pegs, { kind: 'taper', at }]);

/**
 * The job with a peg of its own for every one that was placed: a seam that leaves its pegs to the engine may get more
 * than it asks for, one on each face, numbered on. The job itself where there is none.
 */
export function withPlacedPegs(job: Job, results: readonly SeamResult[]): Job {
  const seams = job.seams.map((seam) => {
    const placed = results.find(({ id }) => id === seam.id)?.pegs ?? [];
    const more = placed.filter(({ index }) => index >= seam.pegs.length).length;
    const last = seam.pegs.findLast(({ at }) => at === 'auto');
    return more > 0 && last ? { ...seam, pegs: [...seam.pegs, ...Array<Peg>(more).fill(last)] } : seam;
  });
  return seams.some((seam, i) => seam !== job.seams[i]) ? { ...job, seams } : job;
}

export const removePeg = (job: Job, seamId: string, index: number): Job =>
  withPegs(job, seamId, (pegs) => pegs.filter((_, i) => i !== index));

export const setPeg = (job: Job, seamId: string, index: number, patch: PegPatch): Job =>
  withPegs(job, seamId, (pegs) => pegs.map((peg, i) => (i === index ? patched(peg, patch) : peg)));

function patched(peg: Peg, patch: PegPatch): Peg {
  const kept = Object.entries({ ...peg, ...patch }).filter(([, value]) => value !== undefined);
  return Object.fromEntries(kept) as Peg;
}

export const setProcess = (job: Job, patch: Partial<Process>): Job => ({
  ...job,
  process: { ...job.process, ...patch },
});

/** Removes a seam and every seam that divides one of its parts. */
export function removeSeam(job: Job, seamId: string): Job {
  const gone = new Set([seamId]);
  for (let grew = true; grew; ) {
    const more = job.seams.filter((s) => !gone.has(s.id) && gone.has(s.of.replace(/\.(front|back)$/, '')));
    for (const seam of more) gone.add(seam.id);
    grew = more.length > 0;
  }
  return { ...job, seams: job.seams.filter((seam) => !gone.has(seam.id)) };
}

export const addSeam = (job: Job, seam: Seam): Job => ({ ...job, seams: [...job.seams, seam] });
