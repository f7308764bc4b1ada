import { useMemo } from 'react';
import { useBench } from '../state/workbench.tsx';
import { type Ball, ballAround, type Stage } from './scene-space.ts';

/** What stands on the bench, the glimpse of a figure being opened before all else, and the ball around it. */
export function useStage(): { stage: Stage; ball: Ball } | null {
  const stage = useBench((s) => s.derived.glimpse ?? s.derived.summary);
  // The same ball while the figure is as large and in the same place, so that view and graphics card keep theirs.
  const key = stage && JSON.stringify([stage.boundsMm, stage.originMm]);
  const ball = useMemo(() => stage && ballAround(stage), [key]);
  return stage && ball && { stage, ball };
}
