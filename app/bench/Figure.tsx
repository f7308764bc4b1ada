import { memo, useCallback, useMemo } from 'react';
import type { Plane } from 'three';
import {
  dot,
  heldPlane,
  joinedBy,
  type PartView,
  partId,
  plane,
  SCULPT,
  type SculptSummary,
  type Vec3,
} from '../../src/index.ts';
import { type BenchState, jobOf } from '../state/bench-state.ts';
import { isSame } from '../state/is-same.ts';
import { findSeam } from '../state/job-edits.ts';
import { haveSeamsMoved } from '../state/moved-seams.ts';
import { pullOf, shownParts } from '../state/parts.ts';
import { useKept } from '../state/use-kept.ts';
import { useBench } from '../state/workbench.tsx';
import { FigureMesh, type Split } from './FigureMesh.tsx';
import { ballAround, movedBy, standingWay } from './scene-space.ts';
import { useStage } from './use-stage.ts';
import type { Tones } from './use-tones.ts';

/** The figure on the bench: its parts, or the whole sculpt in two tones while the parts lag behind the seam. */
export function Figure({ tones, clip }: { tones: Tones; clip: Plane[] }) {
  const preview = useBench(isPreviewed);
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

/** True while there are no parts to show for where the seams are now. */
export function isPreviewed(state: BenchState): boolean {
  const { glimpse, view, viewJob } = state.derived;
  if (glimpse !== null || view === null) return true;
  const chosen = findSeam(jobOf(state), state.sitting.seamId);
  return haveSeamsMoved(viewJob, jobOf(state)) && (chosen === null || chosen.of === 'sculpt');
}

function WholeSculpt({ tones, clip }: { tones: Tones; clip: Plane[] }) {
  const staged = useStage();
  const summary = useBench((s) => (s.derived.glimpse ? null : s.derived.summary));
  const mesh = useBench((s) => s.derived.glimpse?.mesh ?? s.derived.mesh);
  const isOpen = summary !== null && !summary.solid;
  const splitOf = useCallback((state: BenchState) => splitIn(state, summary, tones), [summary, tones]);
  if (mesh === null || staged === null) return null;
  return (
    <FigureMesh
      mesh={mesh}
      ball={staged.ball}
      color={tones.clay}
      clip={clip}
      splitOf={splitOf}
      isOpen={isOpen}
    />
  );
}

/** Where the two tones part, in the scene; null where no seam divides the whole sculpt. */
function splitIn(state: BenchState, summary: SculptSummary | null, tones: Tones): Split | null {
  const seam = findSeam(jobOf(state), state.sitting.seamId);
  const held = seam && heldPlane(seam.by);
  const isDivided = seam?.of === partId(SCULPT) && joinedBy(seam.by) === null;
  if (!summary?.solid || !isDivided || held === null) return null;
  const { normal, offset } = plane(held.normal, held.offsetMm);
  const frontPegged = seam.pegOn === 'front';
  return {
    normal,
    offset: offset - dot(normal, summary.originMm),
    front: frontPegged ? tones.pegged : tones.socketed,
    back: frontPegged ? tones.socketed : tones.pegged,
    line: tones.gap,
  };
}

function Parts({ tones, clip }: { tones: Tones; clip: Plane[] }) {
  const view = useBench((s) => s.derived.view);
  const shown = useBench((s) => shownParts(s).map(({ id }) => id), isSame);
  if (view === null || view.parts.length === 0) return null;
  const standing = standingWay(view.parts);
  return view.parts
    .filter(({ id }) => shown.includes(id))
    .map((part) => <Part key={part.id} part={part} standing={standing} tones={tones} clip={clip} />);
}

interface PartProps {
  part: PartView;
  standing: Vec3;
  tones: Tones;
  clip: Plane[];
}

/** Parts that are as they were are the same ones from view to view. */
const Part = memo(({ part, standing, tones, clip }: PartProps) => {
  const summary = useBench((s) => s.derived.summary);
  const pull = useBench(pullOf, isSame);
  const figure = useMemo(() => summary && ballAround(summary), [summary]);
  const position = useKept(
    figure && summary && movedBy(part, standing, pull, figure, summary.boundsMm),
    isSame,
  );
  if (figure === null || position === null) return null;
  const color = part.pegged === null ? tones.clay : part.pegged ? tones.pegged : tones.socketed;
  // Runs go by their place: what one shows may change with every move, its clay does not.
  return (
    <>
      {part.skins.map(
        ({ mesh }, run) =>
          mesh && (
            <FigureMesh key={run} mesh={mesh} ball={figure} color={color} position={position} clip={clip} />
          ),
      )}
      {part.lid.mesh && (
        <FigureMesh mesh={part.lid.mesh} ball={figure} color={color} position={position} clip={clip} />
      )}
    </>
  );
});
