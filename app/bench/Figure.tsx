import { useMemo } from 'react';
import type { Plane } from 'three';
import type { PartView, Vec3 } from '../../src/index.ts';
import { jobOf } from '../state/bench-state.ts';
import { findSeam } from '../state/job-edits.ts';
import { haveSeamsMoved } from '../state/planes.ts';
import { useBench } from '../state/workbench.tsx';
import { FigureMesh } from './FigureMesh.tsx';
import { ballAround, pulled } from './scene-space.ts';
import type { Tones } from './use-tones.ts';

/** The figure on the bench: its parts, or the whole sculpt in two tones while the parts lag behind the seam. */
export function Figure({ tones, clip }: { tones: Tones; clip: Plane[] }) {
  const { view, viewJob } = useBench((s) => s.derived);
  const job = useBench(jobOf);
  const chosen = useBench((s) => findSeam(jobOf(s), s.sitting.seamId));
  const lagging = haveSeamsMoved(viewJob, job);
  const preview = view === null || (lagging && (chosen === null || chosen.of === 'sculpt'));
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
  const { summary, mesh } = useBench((s) => s.derived);
  const seam = useBench((s) => findSeam(jobOf(s), s.sitting.seamId));
  const ball = useMemo(() => summary && ballAround(summary, summary.boundsMm), [summary]);
  if (summary === null || mesh === null || ball === null) return null;
  return <FigureMesh mesh={mesh} ball={ball} color={tones.clay} clip={clip} split={splitOf()} />;

  function splitOf() {
    if (seam === null || seam.of !== 'sculpt' || summary === null) return null;
    const { normal, offsetMm } = seam.plane;
    const norm = Math.hypot(...normal);
    const [x, y, z] = [normal[0] / norm, normal[1] / norm, normal[2] / norm];
    const o = summary.originMm;
    const frontPegged = seam.pegOn === 'front';
    return {
      normal: [x, y, z] as const,
      offset: offsetMm - (x * o[0] + y * o[1] + z * o[2]),
      front: frontPegged ? tones.pegged : tones.socketed,
      back: frontPegged ? tones.socketed : tones.pegged,
      line: tones.gap,
    };
  }
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
  const figure = useMemo(() => summary && ballAround(summary, summary.boundsMm), [summary]);
  if (summary === null || figure === null) return null;
  const position = pulled(part.away, standing, explode, figure);
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
