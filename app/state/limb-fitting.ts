import {
  heldPlane,
  type Job,
  type LimbClick,
  type LimbFit,
  type Notice,
  notice,
  type SeamSpec,
  type Vec3,
} from '../../src/index.ts';
import { isHeld, jobOf, type Sitting } from './bench-state.ts';
import { patchDerived } from './evaluator.ts';
import * as edits from './job-edits.ts';
import type { BenchStore, EnginePort } from './ports.ts';
import { refusalMessage } from './refusal.ts';

interface Doing {
  sit: (patch: Partial<Sitting>) => void;
  apply: (change: (job: Job) => Job) => void;
  tell: (said: Notice) => void;
}

/** Lays the chosen seam as it suits the limb that it cuts, or that is clicked, in one step of undo, and tells what came of it. */
export function createLimbFitting(store: BenchStore, engine: EnginePort, { sit, apply, tell }: Doing) {
  const job = (): Job => jobOf(store.getState());

  async function fitted(
    ask: (seamId: string, by: SeamSpec) => Promise<LimbFit | null>,
    foundAs: (fit: LimbFit, was: SeamSpec) => Notice,
    none: Notice,
  ): Promise<void> {
    const seam = edits.findSeam(job(), store.getState().sitting.seamId);
    if (seam === null || isHeld(store.getState())) return;
    sit({ seeking: false });
    try {
      const fit = await ask(seam.id, seam.by);
      // What a hand did meanwhile stands.
      if (isHeld(store.getState()) || edits.findSeam(job(), seam.id)?.by !== seam.by) return;
      if (fit === null) {
        patchDerived(store, { message: { tone: 'error', said: none, job: job() } });
        return;
      }
      const plane = heldPlane(fit.by);
      apply((j) => edits.setBy(plane ? edits.setPlane(j, seam.id, plane) : j, seam.id, fit.by));
      tell(foundAs(fit, seam.by));
    } catch (thrown) {
      patchDerived(store, { message: refusalMessage(thrown, notice('work-stopped'), job()) });
    }
  }

  return {
    /** Puts it where the limb that was clicked is narrowest, or with null the one it cuts. */
    goNarrowest: (click: LimbClick | null) =>
      fitted(
        (seamId, by) => engine.narrowest(seamId, by, click),
        ({ beforeMm2, afterMm2 }) => notice('narrowest-found', { beforeMm2, afterMm2 }),
        notice('no-limb'),
      ),
    /** Turns it square to the limb that it cuts. */
    squareToLimb: () =>
      fitted(
        engine.squared,
        ({ by, beforeMm2, afterMm2 }, was) =>
          notice('squared-to-limb', { beforeMm2, afterMm2, turnedDeg: turnDeg(was, by) }),
        notice('no-direction'),
      ),
  };
}

/** How far a seam was turned, degrees; 0 for one that has no plane. */
function turnDeg(from: SeamSpec, to: SeamSpec): number {
  const [a, b] = [heldPlane(from), heldPlane(to)];
  return a && b ? (Math.acos(Math.min(1, dot(a.normal, b.normal))) * 180) / Math.PI : 0;
}

const dot = (a: Vec3, b: Vec3): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
