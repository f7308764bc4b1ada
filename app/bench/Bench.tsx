import { Canvas, type RootState } from '@react-three/fiber';
import { useMemo } from 'react';
import { NoToneMapping, type Plane } from 'three';
import type { BenchState } from '../state/bench-state.ts';
import { isSame } from '../state/is-same.ts';
import { pullOf, shownParts } from '../state/parts.ts';
import { useBench } from '../state/workbench.tsx';
import type { Grip } from '../tools/seam-tool.ts';
import { StaleNote } from '../ui/StaleNote.tsx';
import { words } from '../words.ts';
import { BenchTools } from './BenchTools.tsx';
import { BuildVolume } from './BuildVolume.tsx';
import { CameraWork } from './CameraWork.tsx';
import { ClipPlane, useClip } from './ClipPlane.tsx';
import { DefectMark } from './DefectMark.tsx';
import { drawsInSoftware } from './draws-in-software.ts';
import { Figure } from './Figure.tsx';
import { Ground } from './Ground.tsx';
import { HandleGrip } from './HandleGrip.tsx';
import { createHandleOf } from './handle-of.ts';
import { Lights } from './Lights.tsx';
import { LineMarks } from './LineMarks.tsx';
import { LineSheet } from './LineSheet.tsx';
import { MirrorPatch } from './MirrorPatch.tsx';
import { OutlineMarks } from './OutlineMarks.tsx';
import { PegMarks } from './PegMarks.tsx';
import { PegOutline } from './PegOutline.tsx';
import { SeamPatch } from './SeamPatch.tsx';
import { StartCard } from './StartCard.tsx';
import { toScene } from './scene-space.ts';
import { useStage } from './use-stage.ts';
import { type Tones, useTones } from './use-tones.ts';
import { Viewfinder } from './viewfinder.ts';
import './bench.css';

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
  const isGlimpse = useBench((s) => s.derived.glimpse !== null);
  const clip = useClip();
  return (
    <section className="bench" aria-label={words.bench} data-testid="bench">
      <Canvas
        frameloop="demand"
        dpr={[0.5, 2]}
        gl={{ antialias: !drawsInSoftware(), toneMapping: NoToneMapping }}
        onCreated={trustShaders}
        camera={{ fov: LENS_DEG, up: [0, 0, 1], position: FIRST_EYE }}
      >
        <BenchScene tones={tones} viewfinder={viewfinder} clip={clip} />
      </Canvas>
      <div className="bench-marks">
        {!isGlimpse && <PegMarks viewfinder={viewfinder} />}
        {!isGlimpse && <OutlineMarks viewfinder={viewfinder} />}
        <DefectMark viewfinder={viewfinder} />
        {!isGlimpse && <SeamHandle viewfinder={viewfinder} />}
        {!isGlimpse && <LineMarks viewfinder={viewfinder} />}
      </div>
      <div className="bench-stale">
        <StaleNote />
      </div>
      <BenchTools />
      <StartCard />
    </section>
  );
}

function SeamHandle({ viewfinder }: { viewfinder: Viewfinder }) {
  const handleOf = useMemo(createHandleOf, []);
  const isThere = useBench((s) => handleOf(s) !== null);
  const seamId = useBench((s) => s.sitting.seamId);
  const isDrawing = useBench((s) => s.sitting.drawing !== null);
  if (!isThere || seamId === null || isDrawing) return null;
  return GRIPS.map((grip) => (
    <HandleGrip key={grip} grip={grip} seamId={seamId} handleOf={handleOf} viewfinder={viewfinder} />
  ));
}

interface BenchSceneProps {
  tones: Tones;
  viewfinder: Viewfinder;
  clip: ReturnType<typeof useClip>;
}

function BenchScene({ tones, viewfinder, clip }: BenchSceneProps) {
  const staged = useStage();
  const isGlimpse = useBench((s) => s.derived.glimpse !== null);
  const summary = useBench((s) => s.derived.summary);
  const pull = useBench(pullOf, isSame);
  const standing = useBench(whatStands);
  const shown = useBench((s) => shownParts(s).length);
  const stir = useMemo(() => ({}), [staged?.stage, standing, shown, pull, clip]);
  if (staged === null) return null;
  const { stage, ball } = staged;
  const bedZ = toScene(stage, stage.boundsMm.min)[2];
  return (
    <>
      <CameraWork stage={stage} figure={ball} viewfinder={viewfinder} />
      <Lights figure={ball} />
      <Ground figure={ball} bedZ={bedZ} color={tones.ink} stir={stir} />
      <Figure tones={tones} clip={isGlimpse ? NO_CLIP : clip} />
      <group visible={!isGlimpse}>
        <ClipPlane clip={clip} />
        <BuildVolume stage={stage} color={tones.ink} />
        <PegOutline tones={tones} />
        {summary && <SeamPatch summary={summary} tones={tones} />}
        {summary && <LineSheet stage={summary} tones={tones} />}
        {summary && <MirrorPatch summary={summary} tones={tones} />}
      </group>
    </>
  );
}

/**
 * Another value when what throws a shadow is: seated parts throw that of their skins, whatever is between them or worked
 * into them beside a joint.
 */
const whatStands = (state: BenchState) =>
  state.sitting.explode > 0 || state.sitting.apart.length > 0
    ? state.derived.view
    : shownParts(state)
        .map(({ skins }) => skins[0]?.key)
        .join(' ');
