import { useMemo, useRef } from 'react';
import { jobOf } from '../state/bench-state.ts';
import { findSeam } from '../state/job-edits.ts';
import { useBench } from '../state/workbench.tsx';
import { blindShape, faceShape, type Handle, type HandleShape, standHandle } from './handle-pose.ts';

/** The chosen seam's handle. While a gesture runs it keeps the shape it had, so that it does not wobble under the hand. */
export function useHandle(): Handle | null {
  const seam = useBench((s) => findSeam(jobOf(s), s.sitting.seamId));
  const summary = useBench((s) => s.derived.summary);
  const held = useBench((s) => s.saved.history.before !== null);
  const live = useBench((s) => s.derived.live);
  const view = useBench((s) => s.derived.view);
  const kept = useRef<{ id: string; shape: HandleShape } | null>(null);
  return useMemo(() => {
    if (seam === null || !summary?.solid) return null;
    if (!held || kept.current?.id !== seam.id) {
      const face = live?.seamId === seam.id ? live.face : view?.seams.find((s) => s.id === seam.id);
      const shape = (face && faceShape(face)) ?? blindShape(summary);
      kept.current = { id: seam.id, shape };
    }
    return standHandle(seam, kept.current.shape);
  }, [seam, summary, held, live, view]);
}
