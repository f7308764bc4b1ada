import { useMemo, useRef } from 'react';
import { faceOnBench } from '../state/bench-state.ts';
import { isSame } from '../state/is-same.ts';
import { useBench, useSeam } from '../state/workbench.tsx';
import { blindShape, faceShape, type Handle, type HandleShape, standHandle } from './handle-pose.ts';

/** The chosen seam's handle. While a gesture runs it keeps the shape it had, so that it does not wobble under the hand. */
export function useHandle(): Handle | null {
  const seamId = useBench((s) => s.sitting.seamId);
  const plane = useSeam(seamId, (seam) => seam.plane, isSame);
  const summary = useBench((s) => s.derived.summary);
  const held = useBench((s) => s.saved.history.before !== null);
  const face = useBench((s) => faceOnBench(s, seamId));
  const ofFace = useMemo(() => face && faceShape(face), [face?.frame, face?.outlines]);
  const kept = useRef<{ id: string; shape: HandleShape } | null>(null);
  const solid = summary?.solid ? summary : null;
  if (seamId !== null && solid && (!held || kept.current?.id !== seamId)) {
    kept.current = { id: seamId, shape: ofFace ?? blindShape(solid) };
  }
  const shape = solid && kept.current?.shape;
  return useMemo(() => (plane && shape ? standHandle(plane, shape) : null), [plane, shape]);
}
