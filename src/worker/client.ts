import { type ErrorRecord, PegwrightError } from '../errors.ts';
import type { Vec3 } from '../math/vec3.ts';
import type { Health } from '../mend/report/health.ts';
import type { DisplayMesh } from '../mesh/display.ts';
import type { Job } from '../model/job.ts';
import type { Mend } from '../model/mend.ts';
import type { SeamSpec } from '../model/seam-schema.ts';
import type { SeamPlane } from '../model/seam-spec.ts';
import type { Focus } from '../pipeline/draw-section.ts';
import type { JointMend } from '../pipeline/joint-mends.ts';
import type { SeamImage } from '../pipeline/mirror-seam.ts';
import type { OneWayMend } from '../pipeline/one-way-mends.ts';
import { judgeProof } from '../pipeline/proof.ts';
import type { OrderStep, Reordering } from '../pipeline/reorder-seams.ts';
import type { SuggestedJoints } from '../pipeline/suggest-joints.ts';
import type { SculptSymmetry } from '../pipeline/symmetry.ts';
import type { TouchingBodies } from '../pipeline/touching-bodies.ts';
import type { OnProgress, Proving, Step } from '../progress.ts';
import type { LimbClick, LimbFit } from '../seam/kind.ts';
import { createHeld } from './held.ts';
import { createKernelWorker, isLoadFailure } from './kernel-worker.ts';
import { createLatest } from './latest.ts';
import type {
  EvaluationView,
  Glimpse,
  LiveSeam,
  OpenAs,
  Reply,
  Request,
  SculptFile,
  SculptSummary,
  SkinEstimate,
  Trial,
} from './protocol.ts';

/** The engine as the page sees it. Every promise rejects with an `ErrorRecord`. */
export interface Engine {
  /**
   * Reads a sculpt from one file or several; a failure leaves the one that was open. One that is no solid opens too,
   * to be mended: what would cut it is refused then.
   */
  open(
    files: readonly SculptFile[],
    options: OpenAs,
    onProgress: OnProgress,
    onGlimpse: OnGlimpse,
  ): Promise<{ summary: SculptSummary; mesh: DisplayMesh }>;
  /** What is wrong with the open sculpt; takes seconds on a big one. */
  health(onProgress: OnProgress): Promise<Health>;
  /** What a change of shape would do to the open sculpt, which stays as it is. */
  tryMend(mend: Mend, onProgress: OnProgress): Promise<Trial>;
  /** What a new skin would come to; without a cell, of the one that suits the figure. */
  estimate(cellMm: number | null): Promise<SkinEstimate>;
  /** The direction to turn down for the open sculpt to stand on a flat side of its own; null where it has none. */
  rest(): Promise<Vec3 | null>;
  /** Bodies of the open sculpt that touch with flat faces, and may be joined there. */
  touching(): Promise<TouchingBodies[]>;
  /** A seam where the limb that was clicked, or the one it cuts, is narrowest; null where there is no such place. */
  narrowest(seamId: string, by: SeamSpec, click: LimbClick | null): Promise<LimbFit | null>;
  /** A seam turned square to the limb that it cuts; null where that has no clear direction. */
  squared(seamId: string, by: SeamSpec): Promise<LimbFit | null>;
  /** A job's seams with one of them moved a place; refused with `seam-order-fixed` where the parts would come out otherwise. */
  reorder(job: Job, seamId: string, step: OrderStep): Promise<Reordering>;
  /** What would bring a joint clear of what was found against it; each was worked out. */
  jointMends(job: Job, seamId: string, jointId: string, onProgress: OnProgress): Promise<JointMend[]>;
  /** So many joints for a seam in place of its own, as the engine would have them. */
  suggestJoints(job: Job, seamId: string, count: number, onProgress: OnProgress): Promise<SuggestedJoints>;
  /** What would have a seam's parts go together in one way only; each was worked out. */
  oneWayMends(job: Job, seamId: string, onProgress: OnProgress): Promise<OneWayMend[]>;
  /** How far the open sculpt is its own mirror image across a plane; with null, across the one that suits it best. */
  symmetry(across: SeamPlane | null): Promise<SculptSymmetry>;
  /** The mirror image of one of a job's seams, with its joints. */
  mirror(job: Job, seamId: string, across: SeamPlane): Promise<SeamImage>;
  /**
   * The newest evaluation wins: one that a newer has overtaken before it began answers 'superseded'. `isHeld`: a hand is at
   * the job, so that nothing is looked for long.
   */
  evaluate(
    job: Job,
    focus: Focus | null,
    onProgress: OnProgress,
    isHeld: boolean,
  ): Promise<EvaluationView | 'superseded'>;
  /** Where a seam would divide what the one of this id divides, with contours of its wall; newest wins. */
  outline(
    seamId: string,
    from: SeamSpec | null,
    by: SeamSpec,
    minWallMm: number,
  ): Promise<LiveSeam | 'superseded'>;
  /**
   * Has the kernel prove a job's finished parts, in a worker beside the engine's. Asked again for the same job it
   * answers at once, unless it did not come to an end.
   * Rejects with `part-unproved` where it does not agree, with `cancelled` where it was stopped.
   */
  prove(job: Job): Promise<Proving>;
  /** A part's file, or with null an archive of all; the parts are proved first. */
  export(
    job: Job,
    partId: string | null,
    onProgress: OnProgress,
  ): Promise<{ name: string; file: Blob; proving: Proving }>;
  /** Ends whatever runs (its promises reject with `cancelled`) and starts a new worker on the same sculpt. */
  cancel(): void;
  /** Called when the worker died by itself and was replaced; what it was doing rejects with `kernel-lost`. */
  onCrash(listener: () => void): void;
  dispose(): void;
}

type Answer = Exclude<Reply, { type: 'progress' | 'failed' | 'glimpse' }>;
type Unsent = Request extends infer R ? (R extends Request ? Omit<R, 'id'> : never) : never;

/** Shown a figure that is being opened as soon as its places are known. */
export type OnGlimpse = (glimpse: Glimpse) => void;

interface Pending {
  step: Step;
  onProgress: OnProgress | null;
  onGlimpse: OnGlimpse | null;
  resolve(answer: Answer): void;
  reject(error: ErrorRecord): void;
}

/** What a fresh worker must open before anything else. */
interface OpenSculpt extends OpenAs {
  files: readonly SculptFile[];
}

export function createEngine(): Engine {
  const pending = new Map<number, Pending>();
  const crashListeners: (() => void)[] = [];
  let nextId = 1;
  let onBench: OpenSculpt | null = null;
  /** What the page has of the last view: the worker sends it once. A new worker names all of it anew. */
  let held = createHeld();
  /** None where the last could not be loaded: the next request tries anew. */
  let worker: Worker | null = spawn();

  function spawn(): Worker {
    const fresh = new Worker(new URL('./entry.ts', import.meta.url), { type: 'module' });
    fresh.addEventListener('message', ({ data }: MessageEvent<Reply>) => receive(data));
    fresh.addEventListener('error', (event) => {
      event.preventDefault();
      if (fresh !== worker) return;
      if (isLoadFailure(event)) notLoaded();
      else crashed();
    });
    return fresh;
  }

  function receive(reply: Reply): void {
    const waiting = pending.get(reply.id);
    if (!waiting) return;
    if (reply.type === 'progress') {
      waiting.step = reply.step;
      waiting.onProgress?.(reply.step, reply.done);
      return;
    }
    if (reply.type === 'glimpse') {
      waiting.onGlimpse?.(reply.glimpse);
      return;
    }
    pending.delete(reply.id);
    if (reply.type !== 'failed') {
      waiting.resolve(reply);
      return;
    }
    waiting.reject(reply.error);
    if (reply.error.code === 'kernel-lost') crashed();
  }

  /** The worker, or the kernel in it, is of no more use. */
  function crashed(): void {
    replace((step) => ({ code: 'kernel-lost', facts: { step } }));
    for (const listener of crashListeners) listener();
  }

  /** The worker's script could not be fetched. Another at once would fare no better. */
  function notLoaded(): void {
    const owed = end();
    for (const { reject } of owed) reject({ code: 'not-loaded', facts: { what: 'engine' } });
  }

  /** Ends the worker, refuses what it owed, and puts a new one to work on the same sculpt. */
  function replace(why: (step: Step) => ErrorRecord): void {
    const owed = end();
    revive();
    for (const { step, reject } of owed) reject(why(step));
  }

  /** Ends the worker; answers what it owed. */
  function end(): Pending[] {
    worker?.terminate();
    worker = null;
    const owed = [...pending.values()];
    pending.clear();
    held = createHeld();
    return owed;
  }

  function revive(): Worker {
    const fresh = spawn();
    worker = fresh;
    if (onBench) ask('opened', { type: 'open', ...onBench }).catch(() => {});
    return fresh;
  }

  function request(
    message: Unsent,
    onProgress: OnProgress | null,
    onGlimpse: OnGlimpse | null,
  ): Promise<Answer> {
    const at = worker ?? revive();
    const id = nextId++;
    return new Promise((resolve, reject) => {
      pending.set(id, { step: 'reading', onProgress, onGlimpse, resolve, reject });
      at.postMessage({ ...message, id });
    });
  }

  /** Asks for an answer of one kind. */
  async function ask<T extends Answer['type']>(
    type: T,
    message: Unsent,
    onProgress: OnProgress | null = null,
    onGlimpse: OnGlimpse | null = null,
  ): Promise<Extract<Answer, { type: T }>> {
    const answer = await request(message, onProgress, onGlimpse);
    if (answer.type !== type) throw unexpected(answer);
    return answer as Extract<Answer, { type: T }>;
  }

  const evaluations = createLatest(
    async (job: Job, focus: Focus | null, onProgress: OnProgress, isHeld: boolean) => {
      const answer = await ask(
        'evaluated',
        { type: 'evaluate', job, focus, held: held.keys(), isHeld },
        onProgress,
      );
      return held.completed(answer.view);
    },
  );

  const outlines = createLatest(
    async (seamId: string, from: SeamSpec | null, by: SeamSpec, minWallMm: number) =>
      (await ask('outlined', { type: 'outline', seamId, from, by, minWallMm })).live,
  );

  /** Proofs asked for, by job: the last one only. */
  let asked: { job: Job; answer: Promise<Proving> } | null = null;
  /** So that a proof neither waits for edits nor holds them up. */
  const prover = createKernelWorker();

  function proofOf(job: Job): Promise<Proving> {
    if (asked?.job === job) return asked.answer;
    const answer = prove(job);
    asked = { job, answer };
    // One that did not come to an end says nothing about the job.
    answer.then(
      (proved) => {
        if (!LASTING.includes(proved) && asked?.answer === answer) asked = null;
      },
      () => {
        if (asked?.answer === answer) asked = null;
      },
    );
    return answer;
  }

  async function prove(job: Job): Promise<Proving> {
    const { solids } = await ask('solids', { type: 'solids', job });
    const proofs = solids.map(async ({ part, mesh }): Promise<Proving> => {
      if (!mesh) return 'too-big';
      const answer = await prover.ask({ type: 'prove', mesh });
      if (answer.type === 'lost') return answer.how;
      if (answer.type !== 'proved') throw new Error('no proof where one was asked for');
      const found = judgeProof(part, answer.proof);
      if (found?.code === 'kernel-disagrees') throw new PegwrightError('part-unproved', found.facts);
      return part.overlaps ? 'overlaps' : 'proved';
    });
    const made = await Promise.all(proofs);
    return made.find((one) => one !== 'proved') ?? 'proved';
  }

  return {
    async open(files, options, onProgress, onGlimpse) {
      let seen: DisplayMesh | null = null;
      const answer = await ask('opened', { type: 'open', files, ...options }, onProgress, (glimpse) => {
        seen = glimpse.mesh;
        onGlimpse(glimpse);
      });
      const mesh = answer.mesh ?? seen;
      if (mesh === null) throw unexpected(answer);
      onBench = { files, ...options };
      held = createHeld();
      // A proof speaks of the parts of one sculpt.
      asked = null;
      return { summary: answer.summary, mesh };
    },
    async health(onProgress) {
      return (await ask('examined', { type: 'health' }, onProgress)).health;
    },
    async tryMend(mend, onProgress) {
      return (await ask('tried', { type: 'try-mend', mend }, onProgress)).trial;
    },
    async estimate(cellMm) {
      return (await ask('estimated', { type: 'estimate', cellMm })).estimate;
    },
    async rest() {
      return (await ask('rested', { type: 'rest' })).down;
    },
    async touching() {
      return (await ask('touched', { type: 'touching' })).pairs;
    },
    async narrowest(seamId, by, click) {
      return (await ask('fitted', { type: 'narrowest', seamId, by, click })).fit;
    },
    async squared(seamId, by) {
      return (await ask('fitted', { type: 'square', seamId, by })).fit;
    },
    async symmetry(across) {
      return (await ask('symmetry', { type: 'symmetry', across })).symmetry;
    },
    async mirror(job, seamId, across) {
      return (await ask('mirrored', { type: 'mirror', job, seamId, across })).image;
    },
    async reorder(job, seamId, step) {
      return (await ask('reordered', { type: 'reorder', job, seamId, step })).reordering;
    },
    async jointMends(job, seamId, jointId, onProgress) {
      const asked = { type: 'joint-mends', job, seamId, jointId } as const;
      return (await ask('joint-mended', asked, onProgress)).mends;
    },
    async suggestJoints(job, seamId, count, onProgress) {
      return (await ask('suggested', { type: 'suggest-joints', job, seamId, count }, onProgress)).suggested;
    },
    async oneWayMends(job, seamId, onProgress) {
      return (await ask('one-way-mended', { type: 'one-way-mends', job, seamId }, onProgress)).mends;
    },
    evaluate: evaluations,
    outline: outlines,
    prove: proofOf,
    async export(job, partId, onProgress) {
      onProgress('proving', 0);
      const proving = await proofOf(job);
      const { name, file } = await ask('exported', { type: 'export', job, partId }, onProgress);
      return { name, file, proving };
    },
    cancel() {
      const why: ErrorRecord = { code: 'cancelled', facts: {} };
      for (const latest of [evaluations, outlines]) latest.drop(why);
      prover.stop();
      replace(() => why);
    },
    onCrash(listener) {
      crashListeners.push(listener);
    },
    dispose() {
      worker?.terminate();
      prover.stop();
      pending.clear();
    },
  };
}

/** What holds for a job whenever it is asked again. */
const LASTING: readonly Proving[] = ['proved', 'too-big', 'overlaps'];

const unexpected = (answer: Answer): Error => new Error(`${answer.type} answers another question`);
