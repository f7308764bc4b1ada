import { type Finding, finding } from '../check/finding.ts';
import type { Kernels } from '../kernel/kernels.ts';
import type { Part } from '../mesh/part/part.ts';
import type { Job } from '../model/job.ts';
import type { SeamSpec } from '../model/seam-spec.ts';
import type { OnProgress } from '../progress.ts';
import type { LimbClick, LimbFit, SculptPlace } from '../seam/kind.ts';
import { seamKind } from '../seam/kinds.ts';
import { checkStep } from './check-step.ts';
import { type CutCache, type CutTree, cutStep, type OnLostPart, placeOf, wholePart } from './cut-step.ts';
import type { Evaluation, FaceResult } from './evaluation.ts';
import { faceOutline } from './face-outline.ts';
import { type JointCache, type JointedTree, jointStep } from './joint-step.ts';
import { waitingFacts } from './lost-part.ts';
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
   * `onParts` is shown the finished parts of a job that was not the last one, before they are measured.
   */
  evaluate(job: Job, onProgress?: OnProgress, onParts?: (parts: readonly Part[]) => void): Promise<Evaluated>;
  /**
   * Where a seam would divide what the one of this id divides; one not yet evaluated divides the sculpt, and one whose part
   * is not there divides nothing.
   */
  outline(seamId: string, by: SeamSpec): FaceResult;
  /** A seam moved to `by` from where it was, keeping to the outlines it cut there; null where one of them ends on the way. */
  follow(seamId: string, from: SeamSpec, by: SeamSpec): SeamSpec | null;
  /** A seam where a limb of what it divides is narrowest, see `SeamKind`; null where there is no such place. */
  narrowest(seamId: string, by: SeamSpec, click: LimbClick | null): LimbFit | null;
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
  /** The last job and what came of it: proving and handing over ask for the same again. */
  let last: { key: string; evaluated: Evaluated } | null = null;
  return {
    sculpt,
    async evaluate(job, onProgress = () => {}, onParts = () => {}) {
      const key = JSON.stringify(job);
      if (last?.key === key) return last.evaluated;
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
      const jointDone = performance.now();
      onParts(jointed.parts.map(({ part }) => part));
      const checked = checkStep(job, sculpt, jointed, (done) => onProgress('checking', done));
      const timingsMs = {
        cut: cutDone - start,
        joint: jointDone - cutDone,
        check: performance.now() - jointDone,
      };
      const findings = [...waitingFindings(cut, place), ...checked.findings];
      last = { key, evaluated: { evaluation: { ...checked, findings, timingsMs }, tree: jointed } };
      return last.evaluated;
    },
    outline(seamId, by) {
      const face = faceOutline(dividedBy(seamId), by, place);
      return lost.includes(seamId) ? { ...face, ...NOTHING_CUT } : face;
    },
    // What a seam that waits cuts nowhere cannot be followed from there.
    follow: (seamId, from, by) =>
      waiting.includes(seamId) ? by : seamKind(by).follow(dividedBy(seamId), from, by, place),
    narrowest: (seamId, by, click) =>
      lost.includes(seamId) ? null : seamKind(by).narrowest(dividedBy(seamId), by, click, place),
    reorder(job, seamId, step) {
      const cut = (of: Job, cache: CutCache) =>
        cutStep(kernels.here, of, sculpt, whole, cache, () => {}, 'wait');
      return reorderSeams(cut, job, seamId, step, place);
    },
  };
}

/** A face where nothing is divided. */
const NOTHING_CUT: Pick<FaceResult, 'outlines' | 'uncut' | 'areaMm2' | 'perimeterMm'> = {
  outlines: [],
  uncut: [],
  areaMm2: 0,
  perimeterMm: 0,
};

const waitingFindings = ({ waiting, parts }: CutTree, place: SculptPlace): Finding[] =>
  waiting.map(({ seam: { id, by }, why }) =>
    finding('seam-waits', 'error', waitingFacts(by, why, parts, place), { seamId: id }),
  );
