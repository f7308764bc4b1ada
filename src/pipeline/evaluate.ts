import { isLoose } from '../check/bed.ts';
import type { Kernels } from '../kernel/kernels.ts';
import type { Part } from '../mesh/part/part.ts';
import type { Job } from '../model/job.ts';
import type { SeamPlane, SeamSpec } from '../model/seam-spec.ts';
import type { OnProgress } from '../progress.ts';
import type { LimbClick, LimbFit } from '../seam/kind.ts';
import { seamKind } from '../seam/kinds.ts';
import { checkStep } from './check-step.ts';
import { type CutCache, cutStep, placeOf, wholePart } from './cut-step.ts';
import type { Evaluation, FaceResult, StepTimings } from './evaluation.ts';
import { faceOutlines } from './face-outline.ts';
import { type JointCache, type JointedTree, jointStep } from './joint-step.ts';
import { mirrorSeam, type SeamImage } from './mirror-seam.ts';
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
   * Rejects with PegwrightError when a seam misses or names an unknown part, or the kernel refuses. One at a time.
   * `onParts` is shown the finished parts of a job that was not the last one, before they are measured. `isHasty`: the job
   * is under a hand and will soon be another, so nothing is looked for long.
   */
  evaluate(
    job: Job,
    onProgress?: OnProgress,
    onParts?: (parts: readonly Part[]) => void,
    isHasty?: boolean,
  ): Promise<Evaluated>;
  /** Where a seam would divide what the one of this id divides, facet by facet; one not yet evaluated divides the sculpt. */
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
}

/**
 * An evaluator for a solid sculpt.
 * @throws PegwrightError `mesh-not-closed` or `mesh-no-volume`.
 */
export function createEvaluator(kernels: Kernels, sculpt: Sculpt): Evaluator {
  requireSolid(sculpt);
  const whole: Part = wholePart(sculpt);
  const cuts: CutCache = new Map();
  const joints: JointCache = new Map();
  const dividedBy = (seamId: string): readonly Part[] => cuts.get(seamId)?.of ?? [whole];
  /** The last job and what came of it: proving and handing over ask for the same again. `isLoose`: more could be told of it. */
  let last: { key: string; evaluated: Evaluated; isLoose: boolean } | null = null;

  function check(
    job: Job,
    tree: JointedTree,
    before: Pick<StepTimings, 'cut' | 'joint'>,
    onProgress: OnProgress,
    isHasty: boolean,
  ): Evaluated {
    const start = performance.now();
    const checked = checkStep(job, sculpt, tree, (done) => onProgress('checking', done), isHasty);
    const timingsMs = { ...before, check: performance.now() - start };
    return { evaluation: { ...checked, timingsMs }, tree };
  }
  function keep(key: string, evaluated: Evaluated, isHasty: boolean): Evaluated {
    last = { key, evaluated, isLoose: isHasty && evaluated.evaluation.parts.some(({ bed }) => isLoose(bed)) };
    return evaluated;
  }
  return {
    sculpt,
    async evaluate(job, onProgress = () => {}, onParts = () => {}, isHasty = false) {
      const key = JSON.stringify(job);
      if (last?.key === key) {
        const { evaluated } = last;
        if (isHasty || !last.isLoose) return evaluated;
        return keep(
          key,
          check(job, evaluated.tree, evaluated.evaluation.timingsMs, onProgress, false),
          false,
        );
      }
      last = null;
      const start = performance.now();
      const cut = cutStep(kernels.here, job, sculpt, whole, cuts, (done) => onProgress('cutting', done));
      const cutDone = performance.now();
      const jointed = await jointStep(kernels, job, cut, sculpt.originMm, joints, (done) =>
        onProgress('jointing', done),
      );
      const before = { cut: cutDone - start, joint: performance.now() - cutDone };
      onParts(jointed.parts.map(({ part }) => part));
      return keep(key, check(job, jointed, before, onProgress, isHasty), isHasty);
    },
    outline: (seamId, by) => faceOutlines(kernels.here, dividedBy(seamId), by, placeOf(sculpt)),
    follow: (seamId, from, by) => seamKind(by).follow(dividedBy(seamId), from, by, placeOf(sculpt)),
    mirrored(job, seamId, across) {
      const seam = job.seams.find(({ id }) => id === seamId);
      if (!seam) throw new Error(`no seam is called ${seamId}`);
      const cut = cutStep(kernels.here, job, sculpt, whole, cuts, () => {});
      return mirrorSeam(kernels.here, seam, across, cut, dividedBy, placeOf(sculpt));
    },
    narrowest: (seamId, by, click) => seamKind(by).narrowest(dividedBy(seamId), by, click, placeOf(sculpt)),
  };
}
