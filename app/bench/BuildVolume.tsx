import { useMemo } from 'react';
import type { Vec3 } from '../../src/index.ts';
import type { BenchState } from '../state/bench-state.ts';
import { isSame } from '../state/is-same.ts';
import { useBench } from '../state/workbench.tsx';
import { bedBox } from './bed-box.ts';
import { isPreviewed } from './Figure.tsx';
import { type Stage, toScene } from './scene-space.ts';
import { ThinPairs } from './ThinLoop.tsx';

/** Corners by their numbers, two a line: round the floor, round the ceiling, from one to the other. */
const EDGES = [0, 1, 1, 2, 2, 3, 3, 0, 4, 5, 5, 6, 6, 7, 7, 4, 0, 4, 1, 5, 2, 6, 3, 7];
/** Across the floor, so that it is known for one. */
const CROSS = [0, 2, 1, 3];

/**
 * The build volume in thin lines around a part in its best turn: the volume is turned, so that the part can stay where it
 * is. Where the part is too big it comes through.
 */
export function BuildVolume({ stage, color }: { stage: Stage; color: string }) {
  const corners = useBench((s) => cornersOf(s), isSame);
  const lines = useMemo(() => {
    if (corners === null) return null;
    const at = (k: number) => toScene(stage, [corners[k * 3], corners[k * 3 + 1], corners[k * 3 + 2]]);
    const through = (numbers: readonly number[]) => Float32Array.from(numbers.flatMap(at));
    return { edges: through(EDGES), cross: through(CROSS) };
  }, [corners, stage]);
  if (lines === null) return null;
  return (
    <>
      <ThinPairs points={lines.edges} color={color} opacity={0.6} />
      <ThinPairs points={lines.edges} color={color} opacity={0.18} isSeenThrough />
      <ThinPairs points={lines.cross} color={color} opacity={0.25} />
    </>
  );
}

/** x, y, z each; null where there are none, or no part is shown. */
const cornersOf = (state: BenchState): number[] | null =>
  !state.sitting.bedShown || isPreviewed(state)
    ? null
    : (bedBox(state)?.flatMap((corner: Vec3) => [...corner]) ?? null);
