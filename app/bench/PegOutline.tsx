import { useBench } from '../state/workbench.tsx';
import { Outline, scenePoints } from './SeamPatch.tsx';
import { toScene } from './scene-space.ts';
import type { Tones } from './use-tones.ts';

/** The chosen peg's outline on the seam's face, seen through the clay. */
export function PegOutline({ tones }: { tones: Tones }) {
  const summary = useBench((s) => s.derived.summary);
  const live = useBench((s) => s.derived.live);
  const { seamId, pegIndex } = useBench((s) => s.sitting);
  const seam = useBench((s) => s.derived.view?.seams.find((one) => one.id === seamId));
  const peg = seam?.pegs.find((one) => one.index === pegIndex);
  if (!seam || !peg || summary === null || live !== null) return null;
  return <Outline points={scenePoints(seam, peg.pegOutline, (p) => toScene(summary, p))} color={tones.gap} />;
}
