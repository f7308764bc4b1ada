import { useFrame, useThree } from '@react-three/fiber';
import { useEffect, useMemo } from 'react';
import { Plane, Vector3 } from 'three';
import { useBench } from '../state/workbench.tsx';
import { toScene } from './scene-space.ts';

/** The clipping planes now in force: none, or the one through the chosen peg's axis. The list is new when that changes. */
export function useClip(): Plane[] {
  const clipped = useBench((s) => s.sitting.clipped && s.derived.view?.section !== null);
  return useMemo(() => (clipped ? [new Plane(new Vector3(0, 1, 0), 0)] : []), [clipped]);
}

/** Keeps the clipping plane on the chosen peg, its open side always towards the viewer. */
export function ClipPlane({ clip }: { clip: Plane[] }) {
  const section = useBench((s) => s.derived.view?.section ?? null);
  const summary = useBench((s) => s.derived.summary);
  const { gl, invalidate } = useThree();
  useEffect(() => {
    gl.localClippingEnabled = true;
    invalidate();
  }, [gl, invalidate, section]);
  useFrame(({ camera }) => {
    const plane = clip[0];
    if (!plane || section === null || summary === null) return;
    const through = new Vector3(...toScene(summary, section.frame.origin));
    plane.setFromNormalAndCoplanarPoint(new Vector3(...section.frame.n), through);
    if (plane.distanceToPoint(camera.position) > 0) plane.negate();
  });
  return null;
}
