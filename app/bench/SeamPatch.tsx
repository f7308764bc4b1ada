import { useThree } from '@react-three/fiber';
import { useEffect, useMemo } from 'react';
import { DoubleSide, Matrix4, Vector3 } from 'three';
import type { PlaneFrame } from '../../src/index.ts';
import { faceOnBench } from '../state/bench-state.ts';
import { useBench } from '../state/workbench.tsx';
import { type Stage, toScene } from './scene-space.ts';
import { ThinLoop } from './ThinLoop.tsx';
import { useHandle } from './use-handle.ts';
import type { Tones } from './use-tones.ts';

/** The sheet's corners, x, y, z each. */
const CORNERS = Float32Array.of(-1, -1, 0, 1, -1, 0, 1, 1, 0, -1, 1, 0);

/** The seam's plane as a thin sheet, and the face's outline on it. */
export function SeamPatch({ tones }: { tones: Tones }) {
  const handle = useHandle();
  const summary = useBench((s) => s.derived.summary);
  const face = useBench((s) => faceOnBench(s, s.sitting.seamId));
  const invalidate = useThree((s) => s.invalidate);
  useEffect(invalidate);
  const matrix = useMemo(() => {
    if (handle === null || summary === null) return null;
    const { u, v, n, centre, halfU, halfV } = handle;
    const turn = new Matrix4().makeBasis(new Vector3(...u), new Vector3(...v), new Vector3(...n));
    return turn.scale(new Vector3(halfU, halfV, 1)).setPosition(...toScene(summary, centre));
  }, [handle, summary]);
  const outlines = useMemo(
    () => face && summary && face.outlines.map((outline) => scenePoints(face.frame, outline, summary)),
    [face?.frame, face?.outlines, summary],
  );
  if (matrix === null) return null;
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
      {outlines?.map((points, i) => (
        <ThinLoop key={i} points={points} color={tones.ink} opacity={0.85} isSeenThrough />
      ))}
    </>
  );
}

/** Scene points of a closed outline in a plane's frame, x, y, z each. */
export function scenePoints({ origin, u, v }: PlaneFrame, outline: Float64Array, stage: Stage): Float32Array {
  const points = new Float32Array((outline.length / 2) * 3);
  const from = toScene(stage, origin);
  for (let i = 0, at = 0; i < outline.length; i += 2)
    for (let k = 0; k < 3; k++) points[at++] = from[k] + outline[i] * u[k] + outline[i + 1] * v[k];
  return points;
}
