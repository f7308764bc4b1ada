import { type Notice, notice, type Seam, type SeamPlane, type Vec3 } from '../../src/index.ts';
import { type BenchState, isHeld, jobOf, type Mirroring, type Sitting } from './bench-state.ts';
import { patchDerived } from './evaluator.ts';
import { isSame } from './is-same.ts';
import { findSeam } from './job-edits.ts';
import { mirroredNames } from './mirror-names.ts';
import { freeId } from './new-seam.ts';
import type { BenchStore, EnginePort } from './ports.ts';
import { refusalMessage } from './refusal.ts';

const AXES: Readonly<Record<'x' | 'y' | 'z', Vec3>> = { x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1] };

/** The plane that the chosen seam would be mirrored across; null while none is being chosen, or the figure's is still looked for. */
export function mirrorPlane({ sitting, derived }: BenchState): SeamPlane | null {
  if (sitting.mirroring === null || sitting.tab !== 'seam') return null;
  const { across, offsetMm } = sitting.mirroring;
  return across === 'found' ? (derived.symmetry?.across ?? null) : { normal: AXES[across], offsetMm };
}

/** How much the figure is its own mirror image across that plane; null until it is known. */
export function mirrorFit(state: BenchState) {
  const plane = mirrorPlane(state);
  const { symmetry, symmetryAcross } = state.derived;
  if (plane === null) return null;
  return [symmetry, symmetryAcross].find((one) => one && isSame(one.across, plane)) ?? null;
}

/** What mirroring does with the rest of the bench. */
interface Hands {
  sit(patch: Partial<Sitting>): void;
  tell(said: Notice): void;
  add(seam: Seam): void;
}

/** Choosing a plane, and mirroring the chosen seam across it. */
export function createMirroring(store: BenchStore, engine: EnginePort, { sit, tell, add }: Hands) {
  const refused = (thrown: unknown) =>
    patchDerived(store, { message: refusalMessage(thrown, notice('work-stopped'), jobOf(store.getState())) });

  /** Has the figure measured across the plane that is chosen, or with none looks for its own. */
  async function measure(): Promise<void> {
    const { summary } = store.getState().derived;
    const isFound = store.getState().sitting.mirroring?.across === 'found';
    try {
      const measured = await engine.symmetry(mirrorPlane(store.getState()));
      if (store.getState().derived.summary !== summary) return;
      patchDerived(store, isFound ? { symmetry: measured } : { symmetryAcross: measured });
    } catch (thrown) {
      if (store.getState().derived.summary !== summary) return;
      sit({ mirroring: null });
      refused(thrown);
    }
  }

  /** Chooses a plane; one square to an axis goes through the figure's middle at first. */
  function chooseMirror(choice: Partial<Mirroring> & Pick<Mirroring, 'across'>): void {
    const { summary } = store.getState().derived;
    if (summary === null) return;
    const { min, max } = summary.boundsMm;
    const k = 'xyz'.indexOf(choice.across);
    const offsetMm = choice.offsetMm ?? (k < 0 ? 0 : middleOf(min[k]!, max[k]!));
    // Where parts are pulled apart the plane is not where it seems.
    sit({ mirroring: { across: choice.across, offsetMm }, explode: 0, clipped: false, seeking: false });
    if (mirrorFit(store.getState()) === null) void measure();
  }

  /** Adds the chosen seam's mirror image; true where there is one. */
  async function mirrorSeam(): Promise<boolean> {
    for (;;) {
      const state = store.getState();
      const [job, plane] = [jobOf(state), mirrorPlane(state)];
      const seam = findSeam(job, state.sitting.seamId);
      if (seam === null || plane === null || isHeld(state)) return false;
      try {
        const { areasMm2, ...image } = await engine.mirror(job, seam.id, plane);
        const now = store.getState();
        // What came to the job meanwhile may lie where the image would: it is asked for anew.
        if (jobOf(now) !== job) continue;
        if (findSeam(job, now.sitting.seamId) !== seam || mirrorPlane(now) === null) return false;
        const names = mirroredNames(now, seam, image.of);
        const taken = job.seams.map(({ id }) => id);
        add({ id: freeId(taken), names, ...image });
        tell(notice('seam-mirrored', { ...names, ownMm2: areasMm2[0], imageMm2: areasMm2[1] }));
        return true;
      } catch (thrown) {
        refused(thrown);
        return false;
      }
    }
  }

  return { chooseMirror, leaveMirror: () => sit({ mirroring: null }), mirrorSeam };
}

/** The middle between two places, to a hundredth of a mm. */
const middleOf = (low: number, high: number): number => Math.round((low + high) * 50) / 100;
