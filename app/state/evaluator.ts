import { type EvaluationView, type Focus, type Job, notice } from '../../src/index.ts';
import { type BenchState, type Busy, isHeld, isSculptCurrent, jobOf } from './bench-state.ts';
import { calmly } from './calmly.ts';
import { amend } from './history.ts';
import { findSeam, withPlacedPegs } from './job-edits.ts';
import { hasSeamMoved } from './planes.ts';
import type { BenchStore, EnginePort } from './ports.ts';
import { asErrorRecord, refusalMessage } from './refusal.ts';
import { refitted } from './selection.ts';
import { withUnchanged } from './unchanged.ts';

/** The kernel is asked to prove the parts when nothing has changed, and no hand has held anything, for this long. */
const PROOF_REST_MS = 700;

/** An edit that is worked out sooner than this is not told of, ms. */
const NOTICEABLE_MS = 300;

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
    const tell = () => {
      if (mine === asked) calmly(() => patchDerived(store, { busy }));
    };
    patchDerived(store, { busy: isBrief ? { ...busy, isBrief } : busy });
    const noticed = setTimeout(() => {
      isBrief = false;
      tell();
    }, NOTICEABLE_MS);
    try {
      const view = await engine.evaluate(job, focusOf(state), (step, done) => {
        busy = { ...busy, step, done };
        if (!isBrief) tell();
      });
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

  async function outline(): Promise<void> {
    const { sitting, derived } = store.getState();
    const seam = findSeam(jobOf(store.getState()), sitting.seamId);
    if (seam === null || !isSculptCurrent(store.getState()) || !derived.summary?.solid) return;
    const isAhead = () => hasSeamMoved(store.getState().derived.viewJob, jobOf(store.getState()), seam.id);
    if (!isAhead()) return;
    try {
      const { minWallMm } = jobOf(store.getState()).process;
      const face = await engine.outline(seam.id, seam.plane.normal, seam.plane.offsetMm, minWallMm);
      // It may come when the parts are there already, or after another sculpt.
      if (face === 'superseded' || !isAhead() || derived.summary !== store.getState().derived.summary) return;
      patchDerived(store, { live: { seamId: seam.id, face } });
    } catch {
      patchDerived(store, { live: null });
    }
  }

  return {
    /** The job or the focus changed: works it all out. */
    now: () => {
      void outline();
      void evaluate();
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

export function focusOf({ sitting }: BenchState): Focus | null {
  const { seamId, pegIndex, across } = sitting;
  return seamId === null || pegIndex === null ? null : { seamId, pegIndex, across };
}

/** The state with what a job came to; pegs that the engine put on further faces become the job's own. */
function shown(state: BenchState, view: EvaluationView, job: Job): BenchState {
  const { history } = state.saved;
  const grown = isHeld(state) || jobOf(state) !== job ? job : withPlacedPegs(job, view.seams);
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
