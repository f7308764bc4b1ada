import { useMemo } from 'react';
import type { Plane } from 'three';
import { dot, type PartView, plane, type Seam, type Vec3 } from '../../src/index.ts';
import { jobOf } from '../state/bench-state.ts';
import { findSeam } from '../state/job-edits.ts';
import { haveSeamsMoved } from '../state/planes.ts';
import { useBench } from '../state/workbench.tsx';
import { FigureMesh, type Split } from './FigureMesh.tsx';
import { ballAround, pulled } from './scene-space.ts';
import { useStage } from './use-stage.ts';
import type { Tones } from './use-tones.ts';

/** The figure on the bench: its parts, or the whole sculpt in two tones while the parts lag behind the seam. */
export function Figure({ tones, clip }: { tones: Tones; clip: Plane[] }) {
  const view = useBench((s) => s.derived.view);
  const viewJob = useBench((s) => s.derived.viewJob);
  const job = useBench(jobOf);
  const chosen = useBench((s) => findSeam(jobOf(s), s.sitting.seamId));
  const lagging = haveSeamsMoved(viewJob, job);
  const isGlimpse = useBench((s) => s.derived.glimpse !== null);
  const preview = isGlimpse || view === null || (lagging && (chosen === null || chosen.of === 'sculpt'));
  // Both stay on the graphics card, so that taking hold of a seam uploads nothing.
  return (
    <>
      <group visible={preview}>
        <WholeSculpt tones={tones} clip={clip} />
      </group>
      <group visible={!preview}>
        <Parts tones={tones} clip={clip} />
      </group>
    </>
  );
}

function WholeSculpt({ tones, clip }: { tones: Tones; clip: Plane[] }) {
  const staged = useStage();
  const summary = useBench((s) => (s.derived.glimpse ? null : s.derived.summary));
  const mesh = useBench((s) => s.derived.glimpse?.mesh ?? s.derived.mesh);
  const seam = useBench((s) => findSeam(jobOf(s), s.sitting.seamId));
  const isOpen = summary !== null && !summary.solid;
  const split = useMemo(
    () => summary && splitAt(isOpen ? null : seam, summary.originMm, tones),
    [seam, summary, isOpen, tones],
  );
  if (mesh === null || staged === null) return null;
  return (
    <FigureMesh mesh={mesh} ball={staged.ball} color={tones.clay} clip={clip} split={split} isOpen={isOpen} />
  );
}

/** Where the two tones part, in the scene; null where no seam divides the whole sculpt. */
function splitAt(seam: Seam | null, originMm: Vec3, tones: Tones): Split | null {
  if (seam === null || seam.of !== 'sculpt') return null;
  const { normal, offset } = plane(seam.plane.normal, seam.plane.offsetMm);
  const frontPegged = seam.pegOn === 'front';
  return {
    normal,
    offset: offset - dot(normal, originMm),
    front: frontPegged ? tones.pegged : tones.socketed,
    back: frontPegged ? tones.socketed : tones.pegged,
    line: tones.gap,
  };
}

function Parts({ tones, clip }: { tones: Tones; clip: Plane[] }) {
  const view = useBench((s) => s.derived.view);
  if (view === null || view.parts.length === 0) return null;
  const lowest = view.parts.reduce((low, part) => (part.boundsMm.min[2] < low.boundsMm.min[2] ? part : low));
  return view.parts.map((part) => (
    <Part key={part.id} part={part} standing={lowest.away} tones={tones} clip={clip} />
  ));
}

interface PartProps {
  part: PartView;
  standing: Vec3;
  tones: Tones;
  clip: Plane[];
}

function Part({ part, standing, tones, clip }: PartProps) {
  const summary = useBench((s) => s.derived.summary);
  const explode = useBench((s) => s.sitting.explode);
  const figure = useMemo(() => summary && ballAround(summary), [summary]);
  const position = useMemo(
    () => figure && pulled(part.away, standing, explode, figure),
    [part.away, standing, explode, figure],
  );
  if (figure === null || position === null) return null;
  const color = part.pegged === null ? tones.clay : part.pegged ? tones.pegged : tones.socketed;
  return (
    <>
      {part.skin && (
        <FigureMesh mesh={part.skin} ball={figure} color={color} position={position} clip={clip} />
      )}
      <FigureMesh mesh={part.lid} ball={figure} color={color} position={position} clip={clip} />
    </>
  );
}
