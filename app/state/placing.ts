import {
  type DisplayMesh,
  type Job,
  MM_PER_UNIT,
  proposeUnit,
  type SculptFile,
  type SculptSummary,
  type Unit,
} from '../../src/index.ts';
import { type BenchState, type Derived, filesOnBench, type OnBench, type Tab } from './bench-state.ts';
import { startHistory, step } from './history.ts';
import { refitted } from './selection.ts';

/** What the engine hands over of a sculpt it opened. */
export interface Opened {
  summary: SculptSummary;
  mesh: DisplayMesh;
}

/** The state with a newly opened sculpt on the bench, and its job. */
export function placedOnBench(
  state: BenchState,
  files: readonly SculptFile[],
  job: Job,
  opened: Opened,
): BenchState {
  const onBench = { job, files };
  const isFirst = filesOnBench(state).length === 0;
  return refitted({
    saved: {
      ...state.saved,
      history: isFirst ? startHistory(onBench) : step(state.saved.history, onBench),
    },
    sitting: {
      ...state.sitting,
      seamId: null,
      jointId: null,
      tab: firstTab(state.sitting.tab, job, opened.summary),
      explode: 0,
      apart: [],
      hidden: [],
      alone: null,
      clipped: false,
      facet: null,
      adding: false,
      seeking: false,
      drawing: null,
      outlining: null,
      mirroring: null,
      homes: {},
      lookAt: null,
      visiting: null,
      awaiting: null,
      fitCount: state.sitting.fitCount + 1,
    },
    derived: derivedFrom(state.derived, onBench, opened),
  });
}

/** The state with the sculpt on the bench opened anew, as its job now says; what is chosen stays chosen. */
export const openedAnew = (state: BenchState, as: OnBench, opened: Opened): BenchState => ({
  ...state,
  sitting: { ...state.sitting, lookAt: null, visiting: null, mirroring: null },
  derived: derivedFrom(state.derived, as, opened),
});

const derivedFrom = (before: Derived, { job, files }: OnBench, { summary, mesh }: Opened): Derived => ({
  ...before,
  summary,
  mesh,
  openedAs: job.sculpt,
  openedFiles: files,
  coming: null,
  glimpse: null,
  health: null,
  touching: [],
  symmetry: null,
  symmetryAcross: null,
  tried: null,
  view: null,
  viewJob: null,
  live: null,
  busy: null,
  message: null,
});

/** The sculpt's own fields come to the front where there is something to decide about it. */
function firstTab(tab: Tab, { sculpt }: Job, summary: SculptSummary): Tab {
  const isDoubtful = summary.findings.some(({ severity }) => severity !== 'info');
  return !summary.solid || isDoubtful || betterUnit(sculpt, summary) !== null ? 'sculpt' : tab;
}

/** Sides of the sculpt's box as the numbers in its file, unit and scale not applied. */
export const fileSize = ({ scale }: Job['sculpt'], { unit, boundsMm }: SculptSummary): number[] =>
  boundsMm.max.map((high, i) => (high - boundsMm.min[i]!) / (MM_PER_UNIT[unit] * scale));

/** The unit that would make an unlikely size likely; null where the file declares one, or somebody has set a size. */
export function betterUnit(sculpt: Job['sculpt'], summary: SculptSummary): Unit | null {
  if (summary.declaredUnit !== null || sculpt.scale !== 1) return null;
  const proposed = proposeUnit(fileSize(sculpt, summary));
  return proposed === summary.unit ? null : proposed;
}
