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
import { jobOf } from './bench-state.ts';
import { patchDerived } from './evaluator.ts';
import { createLongWork } from './long-work.ts';
import type { BenchStore, EnginePort } from './ports.ts';

/** Looking the sculpt over, going to what is wrong with it, and trying what would change that. */
export function createLookingOver(store: BenchStore, engine: EnginePort) {
  const { during, progressOf } = createLongWork(store);

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
    tryMend,
    findRest,
    visit,
    leaveTrial: () => patchDerived(store, { tried: null }),
  };
}
