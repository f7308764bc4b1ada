import type { Kernels } from '../kernel/kernels.ts';
import type { Part } from '../mesh/part/part.ts';
import type { Job } from '../model/job.ts';
import type { SeamSpec } from '../model/seam-spec.ts';
import type { OnProgress } from '../progress.ts';
import type { LimbClick, LimbFit } from '../seam/kind.ts';
import { seamKind } from '../seam/kinds.ts';
import { checkStep } from './check-step.ts';
import { type CutCache, cutStep, placeOf, wholePart } from './cut-step.ts';
import type { Evaluation, FaceResult } from './evaluation.ts';
import { faceOutline } from './face-outline.ts';
import { type JointCache, type JointedTree, jointStep } from './joint-step.ts';
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
   * `onParts` is shown the finished parts of a job that was not the last one, before they are measured.
   */
  evaluate(job: Job, onProgress?: OnProgress, onParts?: (parts: readonly Part[]) => void): Promise<Evaluated>;
  /** Where a seam would divide what the one of this id divides; one not yet evaluated divides the sculpt. */
  outline(seamId: string, by: SeamSpec): FaceResult;
  /** A seam moved to `by` from where it was, keeping to the outlines it cut there; null where one of them ends on the way. */
  follow(seamId: string, from: SeamSpec, by: SeamSpec): SeamSpec | null;
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
  /** The last job and what came of it: proving and handing over ask for the same again. */
  let last: { key: string; evaluated: Evaluated } | null = null;
  return {
    sculpt,
    async evaluate(job, onProgress = () => {}, onParts = () => {}) {
      const key = JSON.stringify(job);
      if (last?.key === key) return last.evaluated;
      last = null;
      const start = performance.now();
      const cut = cutStep(kernels.here, job, sculpt, whole, cuts, (done) => onProgress('cutting', done));
      const cutDone = performance.now();
      const jointed = await jointStep(kernels, job, cut, sculpt.originMm, joints, (done) =>
        onProgress('jointing', done),
      );
      const jointDone = performance.now();
      onParts(jointed.parts.map(({ part }) => part));
      const checked = checkStep(job, sculpt, jointed, (done) => onProgress('checking', done));
      const timingsMs = {
        cut: cutDone - start,
        joint: jointDone - cutDone,
        check: performance.now() - jointDone,
      };
      last = { key, evaluated: { evaluation: { ...checked, timingsMs }, tree: jointed } };
      return last.evaluated;
    },
    outline: (seamId, by) => faceOutline(kernels.here, dividedBy(seamId), by, placeOf(sculpt)),
    follow: (seamId, from, by) => seamKind(by).follow(dividedBy(seamId), from, by, placeOf(sculpt)),
    narrowest: (seamId, by, click) => seamKind(by).narrowest(dividedBy(seamId), by, click, placeOf(sculpt)),
  };
}
