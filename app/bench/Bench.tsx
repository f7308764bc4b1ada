import { Canvas, type RootState } from '@react-three/fiber';
import { useMemo } from 'react';
import { NoToneMapping, type Plane } from 'three';
import { words } from '../messages.ts';
import { jobOf } from '../state/bench-state.ts';
import { findSeam } from '../state/job-edits.ts';
import { useBench } from '../state/workbench.tsx';
import type { Grip } from '../tools/seam-tool.ts';
import { BenchTools } from './BenchTools.tsx';
import { CameraWork } from './CameraWork.tsx';
import { ClipPlane, useClip } from './ClipPlane.tsx';
import { DefectMark } from './DefectMark.tsx';
import { Figure } from './Figure.tsx';
import { FigureMesh } from './FigureMesh.tsx';
import { Ground } from './Ground.tsx';
import { HandleGrip } from './HandleGrip.tsx';
import type { Handle } from './handle-pose.ts';
import { Lights } from './Lights.tsx';
import { PegMarks } from './PegMarks.tsx';
import { PegOutline } from './PegOutline.tsx';
import { SeamPatch } from './SeamPatch.tsx';
import { type Ball, ballAround, type Stage, toScene } from './scene-space.ts';
import { useHandle } from './use-handle.ts';
import { type Tones, useTones } from './use-tones.ts';
import { Viewfinder } from './viewfinder.ts';

/** Asking after each shader's errors makes the page wait for the graphics card: only while developing. */
const trustShaders = ({ gl }: RootState) => {
  gl.debug.checkShaderErrors = import.meta.env.DEV;
};

const GRIPS: readonly Grip[] = ['offset', 'across', 'along'];
const NO_CLIP: Plane[] = [];
const LENS_DEG = 26;
/** From the front left, a little above: the way a figure is looked at on a table. */
const FIRST_EYE: [number, number, number] = [0.45, -1.6, 0.72];

/** The clay bench: the figure in its scene, the seam's handle, and the tools of the view. */
export function Bench() {
  const tones = useTones();
  const viewfinder = useMemo(() => new Viewfinder(), []);
  const handle = useHandle();
  const isGlimpse = useBench((s) => s.derived.glimpse !== null);
  const seam = useBench((s) => findSeam(jobOf(s), s.sitting.seamId));
  const clip = useClip();
  return (
    <section className="bench" aria-label={words.bench} data-testid="bench">
      <Canvas
        frameloop="demand"
        dpr={[1, 2]}
        gl={{ antialias: true, toneMapping: NoToneMapping }}
        onCreated={trustShaders}
        camera={{ fov: LENS_DEG, up: [0, 0, 1], position: FIRST_EYE }}
      >
        <BenchScene tones={tones} viewfinder={viewfinder} handle={handle} clip={clip} />
      </Canvas>
      <div className="bench-marks">
        {!isGlimpse && <PegMarks viewfinder={viewfinder} />}
        <DefectMark viewfinder={viewfinder} />
        {seam &&
          handle &&
          !isGlimpse &&
          GRIPS.map((grip) => (
            <HandleGrip key={grip} grip={grip} seam={seam} handle={handle} viewfinder={viewfinder} />
          ))}
      </div>
      <BenchTools />
    </section>
  );
}

interface BenchSceneProps {
  tones: Tones;
  viewfinder: Viewfinder;
  handle: Handle | null;
  clip: ReturnType<typeof useClip>;
}

function BenchScene({ tones, viewfinder, handle, clip }: BenchSceneProps) {
  const glimpse = useBench((s) => s.derived.glimpse);
  const stage = useBench((s) => s.derived.glimpse ?? s.derived.summary);
  const view = useBench((s) => s.derived.view);
  const explode = useBench((s) => s.sitting.explode);
  const figure = useBall(stage);
  const stir = useMemo(() => ({ stage, view, explode, clip }), [stage, view, explode, clip]);
  if (stage === null || figure === null) return null;
  const bedZ = toScene(stage, stage.boundsMm.min)[2];
  return (
    <>
      <CameraWork stage={stage} figure={figure} viewfinder={viewfinder} />
      <Lights figure={figure} />
      <Ground figure={figure} bedZ={bedZ} color={tones.ink} stir={stir} />
      {glimpse && <FigureMesh mesh={glimpse.mesh} ball={figure} color={tones.clay} clip={NO_CLIP} />}
      <group visible={glimpse === null}>
        <Standing tones={tones} handle={handle} clip={clip} />
      </group>
    </>
  );
}

/** The ball around what is on the stage: the same one while it is as large and in the same place, so that the view stays. */
function useBall(stage: Stage | null): Ball | null {
  const key = stage && JSON.stringify([stage.boundsMm, stage.originMm]);
  return useMemo(() => stage && ballAround(stage), [key]);
}

/** The sculpt or its parts, with what is drawn on them. */
function Standing({ tones, handle, clip }: Omit<BenchSceneProps, 'viewfinder'>) {
  return (
    <>
      <Figure tones={tones} clip={clip} />
      <ClipPlane clip={clip} />
      <PegOutline tones={tones} />
      {handle && <SeamPatch handle={handle} tones={tones} />}
    </>
  );
}
