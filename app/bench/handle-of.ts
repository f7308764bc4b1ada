import {
  type FaceResult,
  heldPlane,
  isSameSeam,
  type SculptSummary,
  type SeamSpec,
} from '../../src/index.ts';
import { type BenchState, faceOnBench, isHeld, jobOf } from '../state/bench-state.ts';
import { findSeam } from '../state/job-edits.ts';
import { blindShape, faceShape, type Handle, type HandleShape, standHandle } from './handle-pose.ts';

/**
 * Finds the chosen seam's handle in the state, the same one while it stands alike. While a gesture runs it keeps the
 * shape it had, so that it does not wobble under the hand.
 */
export function createHandleOf(): (state: BenchState) => Handle | null {
  let kept: { id: string; shape: HandleShape } | null = null;
  let last: { by: SeamSpec; shape: HandleShape; handle: Handle } | null = null;
  return (state) => {
    const seam = findSeam(jobOf(state), state.sitting.seamId);
    const { summary } = state.derived;
    const plane = seam && heldPlane(seam.by);
    if (seam === null || plane === null || !summary?.solid) return null;
    if (!isHeld(state) || kept?.id !== seam.id) {
      kept = { id: seam.id, shape: shapeOf(faceOnBench(state, seam.id), summary) };
    }
    const { shape } = kept;
    if (last?.shape === shape && isSameSeam(last.by, seam.by)) return last.handle;
    last = { by: seam.by, shape, handle: standHandle(plane, shape) };
    return last.handle;
  };
}

/** Shapes known, by the outlines or the sculpt they were taken from. */
const known = new WeakMap<object, HandleShape>();

function shapeOf(face: FaceResult | null, summary: SculptSummary): HandleShape {
  const from = face && face.outlines.length > 0 ? face.outlines : summary;
  const shape = known.get(from) ?? ((face && faceShape(face)) || blindShape(summary));
  known.set(from, shape);
  return shape;
}
