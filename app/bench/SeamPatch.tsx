import { useThree } from '@react-three/fiber';
import { useEffect, useMemo } from 'react';
import { DoubleSide, Matrix4, Vector3 } from 'three';
import type { FaceResult, Vec3 } from '../../src/index.ts';
import { fromFrame } from '../../src/index.ts';
import { useBench } from '../state/workbench.tsx';
import type { Handle } from './handle-pose.ts';
import { toScene } from './scene-space.ts';
import { ThinLoop } from './ThinLoop.tsx';
import type { Tones } from './use-tones.ts';

/** The sheet's corners, x, y, z each. */
const CORNERS = Float32Array.of(-1, -1, 0, 1, -1, 0, 1, 1, 0, -1, 1, 0);

/** The seam's plane as a thin sheet, and the face's outline on it. */
export function SeamPatch({ handle, tones }: { handle: Handle; tones: Tones }) {
  const summary = useBench((s) => s.derived.summary);
  const seamId = useBench((s) => s.sitting.seamId);
  const live = useBench((s) => s.derived.live);
  const view = useBench((s) => s.derived.view);
  const face = live?.seamId === seamId ? live?.face : view?.seams.find((s) => s.id === seamId);
  const invalidate = useThree((s) => s.invalidate);
  useEffect(invalidate);
  const matrix = useMemo(() => {
    if (summary === null) return null;
    const { u, v, n, centre, halfU, halfV } = handle;
    const turn = new Matrix4().makeBasis(new Vector3(...u), new Vector3(...v), new Vector3(...n));
    return turn.scale(new Vector3(halfU, halfV, 1)).setPosition(...toScene(summary, centre));
  }, [handle, summary]);
  if (summary === null || matrix === null) return null;
  return (
    <>
      <group matrix={matrix} matrixAutoUpdate={false}>
        <mesh raycast={() => undefined}>
          <planeGeometry args={[2, 2]} />
          <meshBasicMaterial
            color={tones.ink}
            transparent
            opacity={0.07}
            side={DoubleSide}
            depthWrite={false}
          />
        </mesh>
        <ThinLoop points={CORNERS} color={tones.ink} opacity={0.55} />
      </group>
      {face?.outlines.map((outline, i) => (
        <ThinLoop
          key={i}
          points={scenePoints(face, outline, (p) => toScene(summary, p))}
          color={tones.ink}
          opacity={0.85}
          isSeenThrough
        />
      ))}
    </>
  );
}

/** Scene points of a closed outline of a face, x, y, z each. */
export function scenePoints(face: FaceResult, outline: Float64Array, place: (p: Vec3) => Vec3): Float32Array {
  const points = new Float32Array((outline.length / 2) * 3);
  for (let i = 0; i < outline.length; i += 2)
    points.set(place(fromFrame(face.frame, [outline[i]!, outline[i + 1]!])), (i / 2) * 3);
  return points;
}
