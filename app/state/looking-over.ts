import {
  add,
  type DefectKind,
  type Mend,
  normalize,
  notice,
  scale,
  sub,
  type Vec3,
} from '../../src/index.ts';
import { type Busy, jobOf } from './bench-state.ts';
import { calmly } from './calmly.ts';
import { patchDerived } from './evaluator.ts';
import type { BenchStore, EnginePort } from './ports.ts';
import { refusalMessage } from './refusal.ts';

/** Looking the sculpt over, going to what is wrong with it, and trying what would change that. */
export function createLookingOver(store: BenchStore, engine: EnginePort) {
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

  const lookOver = () =>
    during(
      'examining',
      () => engine.health(progressOf('examining')),
      (health) => patchDerived(store, { health }),
    );

  const tryMend = (mend: Mend) =>
    during(
      'trying',
      () => engine.tryMend(mend, progressOf('trying')),
      (trial) => patchDerived(store, { tried: { mend, trial } }),
    );

  /** Tries what would bring a joint clear of what was found against it. */
  function seekJointMends(seamId: string, jointId: string): Promise<void> {
    const job = jobOf(store.getState());
    return during(
      'trying',
      () => engine.jointMends(job, seamId, jointId, progressOf('trying')),
      (mends) => patchDerived(store, { jointMends: { job, seamId, jointId, mends } }),
    );
  }

  /** Finds what to turn down for the sculpt to stand; says so where there is nothing. */
  const findRest = (turn: (down: Vec3) => void) =>
    during(
      'examining',
      () => engine.rest(),
      (down) => {
        if (down) turn(down);
        else {
          const message = {
            tone: 'info' as const,
            said: notice('stands-nowhere'),
            job: jobOf(store.getState()),
          };
          patchDerived(store, { message });
        }
      },
    );

  /** Goes to the first place of a defect, or from one of its places to the next. */
  function visit(kind: DefectKind): void {
    const { sitting, derived } = store.getState();
    const places = derived.health?.defects.find((defect) => defect.kind === kind)?.places ?? [];
    if (places.length === 0 || derived.summary === null) return;
    const index = sitting.visiting?.kind === kind ? (sitting.visiting.index + 1) % places.length : 0;
    const at = add(places[index]!, derived.summary.originMm);
    const { min, max } = derived.summary.boundsMm;
    // From outside: a flaw on the far side would hide behind the figure.
    const from = normalize(sub(at, scale(add(min, max), 0.5)));
    store.setState((s) => ({
      ...s,
      sitting: { ...s.sitting, visiting: { kind, index }, lookAt: { at, from } },
    }));
  }

  return {
    lookOver,
    seekJointMends,
    tryMend,
    findRest,
    visit,
    leaveTrial: () => patchDerived(store, { tried: null }),
  };
}
