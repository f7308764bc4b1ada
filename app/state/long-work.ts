import { notice } from '../../src/index.ts';
import { type Busy, jobOf } from './bench-state.ts';
import { calmly } from './calmly.ts';
import { patchDerived } from './evaluator.ts';
import type { BenchStore, EnginePort } from './ports.ts';
import { refusalMessage } from './refusal.ts';

/** What the engine takes long for, with how far it is shown meanwhile, and a way to stop it. */
export function createLongWork(store: BenchStore) {
  /** Runs long work on the sculpt on the bench; its answer is kept only while that sculpt is there. */
  async function during<T>(what: Busy['what'], work: () => Promise<T>, keep: (answer: T) => void) {
    const { summary } = store.getState().derived;
    const isHere = () => store.getState().derived.summary === summary;
    patchDerived(store, { busy: { what, step: null, done: null } });
    try {
      const answer = await work();
      if (isHere()) keep(answer);
    } catch (thrown) {
      if (isHere()) {
        const message = refusalMessage(thrown, notice('look-stopped'), jobOf(store.getState()));
        patchDerived(store, { message });
      }
    } finally {
      if (store.getState().derived.busy?.what === what) patchDerived(store, { busy: null });
    }
  }

  const progressOf =
    (what: Busy['what']): Parameters<EnginePort['health']>[0] =>
    (step, done) =>
      calmly(() => patchDerived(store, { busy: { what, step, done } }));

  return { during, progressOf };
}
