import { type Job, notice, setJoints } from '../../src/index.ts';
import { jobOf } from './bench-state.ts';
import { patchDerived } from './evaluator.ts';
import { createLongWork } from './long-work.ts';
import type { BenchStore, EnginePort } from './ports.ts';

/** Having the engine try joints and tell what comes of them. */
export function createJointTrying(
  store: BenchStore,
  engine: EnginePort,
  apply: (change: (job: Job) => Job) => void,
) {
  const { during, progressOf } = createLongWork(store);
  const job = (): Job => jobOf(store.getState());

  /** Tries what would bring a joint clear of what was found against it. */
  function seekJointMends(seamId: string, jointId: string): Promise<void> {
    const asked = job();
    return during(
      'trying',
      () => engine.jointMends(asked, seamId, jointId, progressOf('trying')),
      (mends) => patchDerived(store, { jointMends: { job: asked, seamId, jointId, mends } }),
    );
  }

  /** Tries what would have a seam's parts go together in one way only. */
  function seekOneWay(seamId: string): Promise<void> {
    const asked = job();
    return during(
      'trying',
      () => engine.oneWayMends(asked, seamId, progressOf('trying')),
      (mends) => patchDerived(store, { oneWayMends: { job: asked, seamId, mends } }),
    );
  }

  /**
   * Gives a seam so many joints in place of its own, in one step of undo; says so where they have no room. Nothing while
   * something else is tried: buttons that went dark with every move of a hand would cost it a layout each.
   */
  function placeJoints(seamId: string, count: number): Promise<void> {
    const asked = job();
    if (store.getState().derived.busy?.what === 'trying') return Promise.resolve();
    return during(
      'trying',
      () => engine.suggestJoints(asked, seamId, count, progressOf('trying')),
      ({ joints, placed, wallMm, oneWay }) => {
        // What a hand did meanwhile stands.
        if (job() !== asked) return;
        if (joints) apply((now) => setJoints(now, seamId, joints));
        const said = joints
          ? notice('pegs-placed', { count: placed, wallMm, oneWay })
          : notice('fewer-pegs-fit', { asked: count, fit: placed });
        patchDerived(store, { message: { tone: joints ? 'info' : 'error', said, job: job() } });
      },
    );
  }

  return { seekJointMends, seekOneWay, placeJoints };
}
