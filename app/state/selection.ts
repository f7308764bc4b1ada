import { heldPlane, type Job, type PartTree, undivided, type Vec3 } from '../../src/index.ts';
import { homeAxis } from '../tools/tilt.ts';
import type { BenchState, Sitting } from './bench-state.ts';
import { findJoint, findSeam } from './job-edits.ts';
import { treeOf } from './parts.ts';

/** The selection made to fit a job: what no longer exists is let go, and the first seam is chosen if none is. */
export function fittedSelection(sitting: Sitting, job: Job, tree: PartTree): Sitting {
  const seam = findSeam(job, sitting.seamId) ?? job.seams[0] ?? null;
  if (seam === null)
    return {
      ...sitting,
      seamId: null,
      jointId: null,
      adding: false,
      seeking: false,
      drawing: null,
      mirroring: null,
      tab: lessPeg(sitting.tab),
      ...withParts(sitting, tree),
    };
  const wanted = seam.id === sitting.seamId ? findJoint(seam, sitting.jointId) : null;
  const jointId = (wanted ?? seam.joints.at(0) ?? null)?.id ?? null;
  const tab = jointId === null ? lessPeg(sitting.tab) : sitting.tab;
  return {
    ...sitting,
    seamId: seam.id,
    jointId,
    tab,
    // It was about the seam that was chosen then.
    mirroring: seam.id === sitting.seamId ? sitting.mirroring : null,
    homes: withHomes(sitting.homes, job),
    ...withParts(sitting, tree),
  };
}

const lessPeg = (tab: Sitting['tab']): Sitting['tab'] => (tab === 'peg' ? 'seam' : tab);

/** A seam leaning farther than this from its home axis (cosine of 80°) is told from another one. */
const HOME_COS = 0.17;

/** Keeps each seam's home axis while it still serves, so that the two angles do not jump while they are typed. */
function withHomes(homes: Record<string, Vec3>, job: Job): Record<string, Vec3> {
  const next: Record<string, Vec3> = {};
  for (const { id, by } of job.seams) {
    const kept = homes[id];
    const plane = heldPlane(by);
    if (plane === null) continue;
    const { normal } = plane;
    const lean = kept ? kept[0] * normal[0] + kept[1] * normal[1] + kept[2] * normal[2] : 0;
    next[id] = kept && lean > HOME_COS * Math.hypot(...normal) ? kept : homeAxis(normal);
  }
  return next;
}

/** What is hidden, seen alone or pulled away, of the parts that there are. */
function withParts(sitting: Sitting, { root }: PartTree): Pick<Sitting, 'hidden' | 'alone' | 'apart'> {
  const ids = undivided(root).map(({ id }) => id);
  const left = (some: readonly string[]) =>
    some.every((id) => ids.includes(id)) ? some : some.filter((id) => ids.includes(id));
  const alone = sitting.alone && left(sitting.alone);
  return {
    hidden: left(sitting.hidden),
    apart: left(sitting.apart),
    alone: alone?.length === 0 ? null : alone,
  };
}

/** State with its selection made to fit the present job. */
export const refitted = (state: BenchState): BenchState => ({
  ...state,
  sitting: fittedSelection(state.sitting, state.saved.history.present.job, treeOf(state)),
});
