import { useBench } from '../state/workbench.tsx';
import { scenePoints } from './SeamPatch.tsx';
import { toScene } from './scene-space.ts';
import { ThinLoop } from './ThinLoop.tsx';
import type { Tones } from './use-tones.ts';

/** The chosen peg's outline on the seam's face, seen through the clay. */
export function PegOutline({ tones }: { tones: Tones }) {
  const summary = useBench((s) => s.derived.summary);
  const live = useBench((s) => s.derived.live);
  const { seamId, pegIndex } = useBench((s) => s.sitting);
  const seam = useBench((s) => s.derived.view?.seams.find((one) => one.id === seamId));
  const peg = seam?.pegs.find((one) => one.index === pegIndex);
  if (!seam || !peg || summary === null || live !== null) return null;
  const points = scenePoints(seam, peg.pegOutline, (p) => toScene(summary, p));
  return <ThinLoop points={points} color={tones.gap} opacity={0.85} isSeenThrough />;
}
