import { useMemo } from 'react';
import { jointResultOf, seamResultOf } from '../state/bench-state.ts';
import { useBench } from '../state/workbench.tsx';
import { scenePoints } from './SeamPatch.tsx';
import { ThinLoop } from './ThinLoop.tsx';
import type { Tones } from './use-tones.ts';

/** The chosen peg's outline on the seam's face, seen through the clay. */
export function PegOutline({ tones }: { tones: Tones }) {
  const summary = useBench((s) => s.derived.summary);
  const isLive = useBench((s) => s.derived.live !== null);
  const seam = useBench((s) => seamResultOf(s, s.sitting.seamId));
  const peg = useBench((s) => jointResultOf(s, s.sitting.seamId, s.sitting.jointId));
  const points = useMemo(() => {
    const added = peg?.outlines.find(({ does }) => does === 'add');
    const face = peg && seam?.facets[peg.facet];
    return face && added && summary && scenePoints(face.frame, added.outline, summary);
  }, [seam, peg, summary]);
  if (!points || isLive) return null;
  return <ThinLoop points={points} color={tones.gap} opacity={0.85} isSeenThrough />;
}
