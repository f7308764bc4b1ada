import { isLoose } from '../check/bed.ts';
import { type Finding, finding } from '../check/finding.ts';
import type { Kernels } from '../kernel/kernels.ts';
import type { Kernel } from '../kernel/load.ts';
import type { Part } from '../mesh/part/part.ts';
import type { Job } from '../model/job.ts';
import type { SeamSpec } from '../model/seam-schema.ts';
import type { SeamPlane } from '../model/seam-spec.ts';
import type { OnProgress } from '../progress.ts';
import type { LimbClick, LimbFit, SculptPlace } from '../seam/kind.ts';
import { seamKind } from '../seam/kinds.ts';
import { checkStep } from './check-step.ts';
import { type CutCache, type CutTree, cutStep, type OnLostPart, placeOf, wholePart } from './cut-step.ts';
import type { Evaluation, FaceResult, StepTimings } from './evaluation.ts';
import { faceOutlines } from './face-outline.ts';
import { type JointCache, type JointedTree, jointStep } from './joint-step.ts';
import { waitingFacts } from './lost-part.ts';
import { mirrorSeam, type SeamImage } from './mirror-seam.ts';
import { type OrderStep, type Reordering, reorderSeams } from './reorder-seams.ts';
import { requireSolid, type Sculpt } from './sculpt.ts';

/** An evaluation and the meshes it speaks of, part for part. */
export interface Evaluated {
  evaluation: Evaluation;
  tree: JointedTree;
}

/** Computes a job on one sculpt again and again, keeping what an edit does not touch. */
export interface Evaluator {
  readonly sculpt: Sculpt;
  /**
   * Rejects with PegwrightError when a seam misses or names an unknown part, unless such a seam is to wait, or when the
   * kernel refuses. One at a time.
   * `onParts` is shown the finished parts of a job that was not the last one, before they are measured. `isHasty`: the job
   * is under a hand and will soon be another, so nothing is looked for long.
   */
  evaluate(
    job: Job,
    onProgress?: OnProgress,
    onParts?: (parts: readonly Part[]) => void,
    isHasty?: boolean,
  ): Promise<Evaluated>;
  /**
   * Where a seam would divide what the one of this id divides, facet by facet; one not yet evaluated divides the sculpt,
   * and one whose part is not there nothing.
   */
  outline(seamId: string, by: SeamSpec): FaceResult[];
  /** A seam moved to `by` from where it was, keeping to the outlines it cut there; null where one of them ends on the way. */
  follow(seamId: string, from: SeamSpec, by: SeamSpec): SeamSpec | null;
  /**
   * The mirror image of one of a job's seams across a plane, with its joints, see `mirrorSeam`.
   * @throws PegwrightError as `evaluate` rejects, and `mirrorSeam` refuses.
   */
  mirrored(job: Job, seamId: string, across: SeamPlane): SeamImage;
  /** A seam where a limb of what it divides is narrowest, see `SeamKind`; null where there is no such place. */
  narrowest(seamId: string, by: SeamSpec, click: LimbClick | null): LimbFit | null;
  /** A seam turned square to the limb that it cuts, see `SeamKind`; null where it has no clear direction. */
  squared(seamId: string, by: SeamSpec): LimbFit | null;
  /** A job's seams with one of them moved a place, see `reorderSeams`. */
  reorder(job: Job, seamId: string, step: OrderStep): Reordering;
}

/**
 * An evaluator for a solid sculpt. A seam that has lost its part refuses the whole job, or waits with a finding.
 * @throws PegwrightError `mesh-not-closed` or `mesh-no-volume`.
 */
export function createEvaluator(kernels: Kernels, sculpt: Sculpt, onLost: OnLostPart = 'refuse'): Evaluator {
  requireSolid(sculpt);
  const whole: Part = wholePart(sculpt);
  const cuts: CutCache = new Map();
  const joints: JointCache = new Map();
  const place = placeOf(sculpt);
  /** Seams that waited last, and those of them whose part is not there. */
  let waiting: readonly string[] = [];
  let lost: readonly string[] = [];
  const dividedBy = (seamId: string): readonly Part[] => cuts.get(seamId)?.of ?? [whole];
  /** The last job and what came of it: proving and handing over ask for the same again. `isLoose`: more could be told of it. */
  let last: { key: string; evaluated: Evaluated; waits: readonly Finding[]; isLoose: boolean } | null = null;

  function check(
    job: Job,
    tree: JointedTree,
    waits: readonly Finding[],
    before: Pick<StepTimings, 'cut' | 'joint'>,
    onProgress: OnProgress,
    isHasty: boolean,
  ): Evaluated {
    const start = performance.now();
    const checked = checkStep(job, sculpt, tree, (done) => onProgress('checking', done), isHasty);
    const timingsMs = { ...before, check: performance.now() - start };
    return { evaluation: { ...checked, findings: [...waits, ...checked.findings], timingsMs }, tree };
  }
  function keep(key: string, evaluated: Evaluated, waits: readonly Finding[], isHasty: boolean): Evaluated {
    last = {
      key,
      evaluated,
      waits,
      isLoose: isHasty && evaluated.evaluation.parts.some(({ bed }) => isLoose(bed)),
    };
    return evaluated;
  }
  return {
    sculpt,
    async evaluate(job, onProgress = () => {}, onParts = () => {}, isHasty = false) {
      const key = JSON.stringify(job);
      if (last?.key === key) {
        const { evaluated, waits } = last;
        if (isHasty || !last.isLoose) return evaluated;
        const { cut, joint } = evaluated.evaluation.timingsMs;
        const again = check(job, evaluated.tree, waits, { cut, joint }, onProgress, false);
        return keep(key, again, waits, false);
      }
      last = null;
      const start = performance.now();
      const onCut = (done: number) => onProgress('cutting', done);
      const cut = cutStep(kernels.here, job, sculpt, whole, cuts, onCut, onLost);
      waiting = cut.waiting.map(({ seam }) => seam.id);
      lost = cut.waiting.flatMap(({ seam, why }) => (why.is === 'misses' ? [] : [seam.id]));
      const cutDone = performance.now();
      const jointed = await jointStep(kernels, job, cut, sculpt.originMm, joints, (done) =>
        onProgress('jointing', done),
      );
      const before = { cut: cutDone - start, joint: performance.now() - cutDone };
      onParts(jointed.parts.map(({ part }) => part));
      const waits = waitingFindings(kernels.here, cut, place);
      return keep(key, check(job, jointed, waits, before, onProgress, isHasty), waits, isHasty);
    },
    outline: (seamId, by) =>
      lost.includes(seamId) ? [] : faceOutlines(kernels.here, dividedBy(seamId), by, place),
    // What a seam that waits cuts nowhere cannot be followed from there.
    follow: (seamId, from, by) =>
      waiting.includes(seamId) ? by : seamKind(by).follow(dividedBy(seamId), from, by, place),
    mirrored(job, seamId, across) {
      const seam = job.seams.find(({ id }) => id === seamId);
      if (!seam) throw new Error(`no seam is called ${seamId}`);
      const cut = cutStep(kernels.here, job, sculpt, whole, cuts, () => {}, onLost);
      return mirrorSeam(kernels.here, seam, across, cut, dividedBy, place);
    },
    narrowest: (seamId, by, click) =>
      lost.includes(seamId) ? null : seamKind(by).narrowest(dividedBy(seamId), by, click, place),
    squared: (seamId, by) =>
      lost.includes(seamId) ? null : seamKind(by).squared(dividedBy(seamId), by, place),
    reorder(job, seamId, step) {
      const cut = (of: Job, cache: CutCache) =>
        cutStep(kernels.here, of, sculpt, whole, cache, () => {}, 'wait');
      return reorderSeams(kernels.here, cut, job, seamId, step, place);
    },
  };
}

const waitingFindings = (kernel: Kernel, { waiting, parts }: CutTree, place: SculptPlace): Finding[] =>
  waiting.map(({ seam: { id, by }, why }) =>
    finding('seam-waits', 'error', waitingFacts(kernel, by, why, parts, place), { seamId: id }),
  );
