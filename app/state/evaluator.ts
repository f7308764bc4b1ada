import {
  type EvaluationView,
  type Focus,
  followsHand,
  heldPlane,
  isSameSeam,
  type Job,
  notice,
  type Seam,
  type SeamSpec,
  type Step,
  throughOf,
  type Vec3,
  withPlane,
  withThrough,
} from '../../src/index.ts';
import { type BenchState, type Busy, isHeld, isSculptCurrent, jobOf } from './bench-state.ts';
import { calmly } from './calmly.ts';
import { amend } from './history.ts';
import { findSeam, setBy, withPlacedJoints } from './job-edits.ts';
import { hasSeamMoved } from './moved-seams.ts';
import type { BenchStore, EnginePort } from './ports.ts';
import { asErrorRecord, refusalMessage } from './refusal.ts';
import { refitted } from './selection.ts';
import { withUnchanged } from './unchanged.ts';

/** The kernel is asked to prove the parts when nothing has changed, and no hand has held anything, for this long. */
const PROOF_REST_MS = 700;

/** An edit that is worked out sooner than this is not told of, ms. */
const NOTICEABLE_MS = 300;

/** Progress within a step is told no more often than this, ms: a job of many seams makes dozens of it for one move of a hand. */
const TELL_EVERY_MS = 100;

/** Keeps the derived state up with the job: the newest wish wins, the last good result stays on failure. */
export function createEvaluator(store: BenchStore, engine: EnginePort) {
  let asked = 0;
  let proofTimer: ReturnType<typeof setTimeout> | undefined;

  async function evaluate(): Promise<void> {
    const state = store.getState();
    if (!isSculptCurrent(state)) return;
    const mine = ++asked;
    const job = jobOf(state);
    let busy: Busy = { what: 'evaluating', step: null, done: null };
    // Edit upon edit is one wait to whoever watches.
    let isBrief = state.derived.busy === null || state.derived.busy.isBrief === true;
    let toldAt = 0;
    const tell = () => {
      toldAt = performance.now();
      if (mine === asked) calmly(() => patchDerived(store, { busy }));
    };
    patchDerived(store, { busy: isBrief ? { ...busy, isBrief } : busy });
    const noticed = setTimeout(() => {
      isBrief = false;
      tell();
    }, NOTICEABLE_MS);
    try {
      const onProgress = (step: Step, done: number) => {
        const isDue = step !== busy.step || performance.now() - toldAt >= TELL_EVERY_MS;
        busy = { ...busy, step, done };
        if (!isBrief && isDue) tell();
      };
      const view = await engine.evaluate(job, focusOf(state), onProgress, isHeld(state));
      if (view === 'superseded' || mine !== asked) return;
      calmly(() => store.setState((s) => shown(s, view, job)));
      clearTimeout(proofTimer);
      proofTimer = setTimeout(() => void prove(jobOf(store.getState())), PROOF_REST_MS);
    } catch (thrown) {
      if (mine !== asked) return;
      const message = { ...refusalMessage(thrown, notice('work-stopped'), job), aboutJob: true };
      patchDerived(store, { busy: null, message, refusal: { job, message } });
    } finally {
      clearTimeout(noticed);
    }
  }

  /** Quietly: what it finds is told, and a job that has changed meanwhile is no longer of interest. */
  async function prove(job: Job): Promise<void> {
    const state = store.getState();
    if (isHeld(state) || job !== jobOf(state) || state.derived.viewJob !== job) return;
    try {
      const proving = await engine.prove(job);
      if (job === jobOf(store.getState())) patchDerived(store, { proof: { job, proving } });
    } catch (thrown) {
      const record = asErrorRecord(thrown);
      if (record.code !== 'part-unproved' || job !== jobOf(store.getState())) return;
      const message = { tone: 'error' as const, said: record, job, aboutJob: true };
      patchDerived(store, { message, refusal: { job, message } });
    }
  }

  /**
   * Shows where the chosen seam is while it is ahead of what was worked out, keeping to the outlines it cut there. False
   * where one of them ends on the way.
   */
  async function outline(): Promise<boolean> {
    const { sitting, derived } = store.getState();
    const seam = findSeam(jobOf(store.getState()), sitting.seamId);
    if (seam === null || !followsHand(seam.by)) return true;
    if (!isSculptCurrent(store.getState()) || !derived.summary?.solid) return true;
    const isAhead = () => hasSeamMoved(store.getState().derived.viewJob, jobOf(store.getState()), seam.id);
    if (!isAhead()) return true;
    try {
      const { minWallMm } = jobOf(store.getState()).process;
      const live = await engine.outline(seam.id, movedFrom(derived.viewJob, seam), seam.by, minWallMm);
      // It may come when the parts are there already, or after another sculpt.
      if (live === 'superseded' || !isAhead() || derived.summary !== store.getState().derived.summary)
        return true;
      const { by } = live;
      patchDerived(store, { live: { seamId: seam.id, faces: live.faces } });
      if (by !== null) store.setState((s) => withFollowed(s, seam, by));
      return by !== null;
    } catch {
      patchDerived(store, { live: null });
      return true;
    }
  }

  async function followFirst(): Promise<void> {
    const job = jobOf(store.getState());
    if (await outline()) return evaluate();
    if (job !== jobOf(store.getState())) return;
    const message = { tone: 'error' as const, said: notice('outlines-ended'), job, aboutJob: true };
    patchDerived(store, { busy: null, message, refusal: { job, message } });
  }

  return {
    /** The job or the focus changed: works it all out. */
    now: () => {
      const { sitting, derived } = store.getState();
      const seam = findSeam(jobOf(store.getState()), sitting.seamId);
      // Which outlines it cuts is known once they are followed to where it is.
      if (seam && movedFrom(derived.viewJob, seam)) void followFirst();
      else {
        void outline();
        void evaluate();
      }
    },
    /** A hand holds the seam: its outline follows at once, the parts come when it lets go. */
    live: () => void outline(),
    /** Forgets what is on its way: its answer, should it come, is about another sculpt. */
    forget: () => {
      clearTimeout(proofTimer);
      asked++;
    },
  };
}

/** Where a seam that cuts some outlines only was worked out, if it was moved since; null where nothing is to be followed. */
function movedFrom(viewJob: Job | null, { id, by }: Seam): SeamSpec | null {
  const was = viewJob && findSeam(viewJob, id)?.by;
  if (!was || throughOf(was) === null || throughOf(by) === null) return null;
  if (isSameSeam(withThrough(was, null), withThrough(by, null))) return null;
  // Outlines chosen anew are where they are.
  const plane = heldPlane(by);
  return plane && areNear(throughOf(withPlane(was, plane)), throughOf(by)) ? was : null;
}

/** Points that a moved seam takes along may be off by rounding, mm. */
const ROUNDING_MM = 0.01;

const areNear = (a: readonly Vec3[] | null, b: readonly Vec3[] | null): boolean =>
  a !== null &&
  b !== null &&
  a.length === b.length &&
  a.every((p, i) => p.every((v, k) => Math.abs(v - b[i]![k]!) <= ROUNDING_MM));

/** The state with a seam's outlines followed to where it is, if it still is there. */
function withFollowed(state: BenchState, seam: Seam, by: SeamSpec | null): BenchState {
  const { history } = state.saved;
  const job = jobOf(state);
  const now = findSeam(job, seam.id);
  if (by === null || now?.by !== seam.by || isSameSeam(by, now.by)) return state;
  const followed = { ...history.present, job: setBy(job, seam.id, by) };
  return { ...state, saved: { ...state.saved, history: amend(history, followed) } };
}

export function focusOf({ sitting }: BenchState): Focus | null {
  const { seamId, jointId, across } = sitting;
  return seamId === null || jointId === null ? null : { seamId, jointId, across };
}

/** The state with what a job came to; pegs that the engine put on further faces become the job's own. */
function shown(state: BenchState, view: EvaluationView, job: Job): BenchState {
  const { history } = state.saved;
  const grown = isHeld(state) || jobOf(state) !== job ? job : withPlacedJoints(job, view.seams);
  return refitted({
    ...state,
    saved:
      grown === job
        ? state.saved
        : { ...state.saved, history: amend(history, { ...history.present, job: grown }) },
    derived: { ...state.derived, ...shownWith(state, view, grown), busy: null },
  });
}

/** The derived state with a new view in it. An outline that ran ahead is dropped once the parts have caught up. */
function shownWith(state: BenchState, view: EvaluationView, job: Job) {
  const { live } = state.derived;
  const ahead = live !== null && hasSeamMoved(job, jobOf(state), live.seamId);
  const { message } = state.derived;
  return {
    view: withUnchanged(state.derived.view, view),
    viewJob: job,
    live: ahead ? live : null,
    message: message?.aboutJob ? null : message,
    refusal: null,
  };
}

export const patchDerived = (store: BenchStore, patch: Partial<BenchState['derived']>): void =>
  store.setState((s) => ({ ...s, derived: { ...s.derived, ...patch } }));
