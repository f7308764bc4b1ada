import { add, type Vec3 } from '../../src/index.ts';
import type { BenchState } from '../state/bench-state.ts';
import { partInBed } from '../state/build-volume.ts';
import { ballAround, bedCorners, movedBy, standingWay } from './scene-space.ts';

/** Corners of the build volume where it is shown, as `bedCorners` has them: with its part, however far that is pulled; null where it is not. */
export function bedBox(state: BenchState): Vec3[] | null {
  const { view, viewJob, summary } = state.derived;
  const part = partInBed(state);
  if (part === null || view === null || viewJob === null || summary === null) return null;
  const { explode, apart } = state.sitting;
  const standing = standingWay(view.parts);
  const by = movedBy(part, standing, { explode, apart }, ballAround(summary), summary.boundsMm);
  return bedCorners(part.bed, viewJob.process.bedMm).map((corner) => add(corner, by));
}
