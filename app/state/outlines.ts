import {
  type FaceResult,
  fromFrame,
  type Job,
  joinedBy,
  loopArea,
  rounded,
  toFrame,
  type Vec2,
  type Vec3,
  windingAt,
  withThrough,
} from '../../src/index.ts';
import { type BenchState, faceOnBench, isHeld, jobOf, refusalOf } from './bench-state.ts';
import { findSeam, setBy } from './job-edits.ts';

/** Outlines of a seam's plane that are cut or left together: an outermost one, which stands for all within it. */
export interface OutlineGroup {
  outline: Float64Array;
  isCut: boolean;
  /** A point on it in the face's frame, which means it in a job. */
  at: Vec2;
}

const known = new WeakMap<Float64Array[], OutlineGroup[]>();

/** The outlines that a person can choose among, those that are cut first; several faces at least, else none. */
export function outlineGroups({ outlines, uncut }: FaceResult): OutlineGroup[] {
  let groups = known.get(outlines);
  if (!groups) {
    const all = [...outlines, ...uncut];
    const isOutermost = (outline: Float64Array) =>
      loopArea(outline) > 0 &&
      !all.some(
        (other) =>
          other !== outline && loopArea(other) > 0 && windingAt([other], outline[0]!, outline[1]!) !== 0,
      );
    groups = all.filter(isOutermost).map((outline) => ({
      outline,
      isCut: outlines.includes(outline),
      at: [outline[0]!, outline[1]!],
    }));
    known.set(outlines, groups);
  }
  return groups.length > 1 ? groups : [];
}

/** True where two lists hold the same outlines in the same order. */
export const isSameList = (a: readonly OutlineGroup[], b: readonly OutlineGroup[]): boolean =>
  a.length === b.length && a.every((group, i) => group === b[i]);

/** The outlines to choose among on the bench: those of the chosen seam, while its own fields are shown. */
export function choosableOutlines(state: BenchState): OutlineGroup[] {
  const { seamId, tab } = state.sitting;
  const seam = findSeam(jobOf(state), seamId);
  const isOpen = tab === 'seam' && !isHeld(state) && seam !== null && joinedBy(seam.by) === null;
  const face = isOpen ? faceOnBench(state, seamId) : null;
  return face ? outlineGroups(face) : [];
}

/** The outline that still joins what those chosen should part, where a job is refused for that. */
export function joiningOutline(state: BenchState): OutlineGroup | null {
  const said = refusalOf(state)?.said;
  const face = faceOnBench(state, state.sitting.seamId);
  if (said?.code !== 'seam-frees-nothing' || face === null) return null;
  const [x, y] = toFrame(face.frame, said.facts.at as Vec3);
  return choosableOutlines(state).find(({ outline }) => windingAt([outline], x, y) !== 0) ?? null;
}

/** The job with one of a seam's outlines cut, or left whole; the job itself where none would be cut then. */
export function toggleOutline(job: Job, seamId: string, face: FaceResult, group: OutlineGroup): Job {
  const seam = findSeam(job, seamId);
  const cut = outlineGroups(face).filter((one) => (one === group ? !one.isCut : one.isCut));
  if (seam === null || cut.length === 0) return job;
  const isAll = cut.length === outlineGroups(face).length;
  return setBy(
    job,
    seamId,
    withThrough(seam.by, isAll ? null : cut.map(({ at }) => rounded(fromFrame(face.frame, at)))),
  );
}
