import { type Job, type Notice, notice, type OrderStep, partRef, type Reordering } from '../../src/index.ts';
import { isHeld, isSculptCurrent, jobOf } from './bench-state.ts';
import { patchDerived } from './evaluator.ts';
import { findSeam, removeSeam, setPartName } from './job-edits.ts';
import { treeOf } from './parts.ts';
import type { BenchStore, EnginePort } from './ports.ts';
import { refusalMessage } from './refusal.ts';
import { proposedNames } from './side-names.ts';

interface OrderingNeeds {
  store: BenchStore;
  engine: EnginePort;
  apply(change: (job: Job) => Job): void;
  /** One step of undo, names of parts and all as they are given. */
  replaceJob(next: Job): void;
  tell(said: Notice): void;
}

/** What a person does to which seams there are and the order they go in. */
export function createOrdering({ store, engine, apply, replaceJob, tell }: OrderingNeeds) {
  /** Takes a seam away, and tells which others have lost their parts by that. */
  function removeSeamOf(seamId: string): void {
    const before = treeOf(store.getState()).astray.map(({ id }) => id);
    apply((job) => removeSeam(job, seamId));
    const lost = treeOf(store.getState()).astray.filter(({ id }) => !before.includes(id));
    if (lost.length > 0) tell(notice('seams-left-waiting', { seams: lost.map(({ names }) => names) }));
  }

  /** Moves a seam a place among the seams where the parts stay what they are, else tells why not. */
  async function moveSeam(seamId: string, step: OrderStep): Promise<void> {
    const state = store.getState();
    const job = jobOf(state);
    if (isHeld(state) || !isSculptCurrent(state) || !state.derived.summary?.solid) return;
    try {
      const reordering = await engine.reorder(job, seamId, step);
      // What a hand did meanwhile stands.
      if (isHeld(store.getState()) || jobOf(store.getState()) !== job) return;
      followParts(reordering);
      replaceJob(reordered(job, reordering));
    } catch (thrown) {
      const message = refusalMessage(thrown, notice('work-stopped'), job);
      if (jobOf(store.getState()) === job) patchDerived(store, { message: { ...message, aboutJob: true } });
    }
  }

  /** What is hidden, seen alone or pulled away stays so where its part goes by another id. */
  function followParts({ renamed }: Reordering): void {
    if (renamed === null) return;
    const follow = (ids: readonly string[]) => ids.map((id) => (id === renamed.was ? renamed.is : id));
    store.setState((s) => {
      const { hidden, alone, apart } = s.sitting;
      const followed = { hidden: follow(hidden), alone: alone && follow(alone), apart: follow(apart) };
      const sitting = { ...s.sitting, ...followed };
      return { ...s, sitting };
    });
  }

  return { removeSeam: removeSeamOf, moveSeam };
}

/** The job with its seams in another order. A part that only now comes to be, and is divided, is named by where it lies. */
export function reordered(job: Job, { seams, renamed }: Reordering): Job {
  const next = { ...job, seams };
  const divided = renamed && partRef(renamed.was);
  const seam = divided?.of === 'seam' ? findSeam(next, divided.seamId) : null;
  const names = seam && proposedNames(next, seam);
  return divided?.of === 'seam' && names ? setPartName(next, divided, names[divided.side]) : next;
}
