import type {
  DefectKind,
  DisplayMesh,
  EvaluationView,
  FaceResult,
  Glimpse,
  Health,
  Job,
  JointMend,
  JointResult,
  JointSection,
  LiveFace,
  Mend,
  OneWayMend,
  Proving,
  Said,
  SculptFile,
  SculptSummary,
  SculptSymmetry,
  SeamResult,
  Step,
  TouchingBodies,
  Trial,
  Vec2,
  Vec3,
} from '../../src/index.ts';
import { type History, startHistory } from './history.ts';

/**
 * The page's whole state, in three kinds kept apart: what is saved (and undoable), what belongs
 * to this sitting, and what is derived from the job and the sculpt and can be computed again.
 */
export interface BenchState {
  saved: Saved;
  sitting: Sitting;
  derived: Derived;
}

export interface Saved {
  history: History<OnBench>;
  /** Where what is saved is kept: in this tab, or by another one that has the job open too. */
  keptBy: 'here' | 'other-tab';
}

/** A job with the files of its sculpt: opening another figure is a step like any, and can be undone. */
export interface OnBench {
  job: Job;
  /** The opened files as they came; none before the first figure is open. */
  files: readonly SculptFile[];
}

export type Tab = 'sculpt' | 'seam' | 'peg' | 'process';
export type Theme = 'system' | 'light' | 'dark';

export interface Sitting {
  seamId: string | null;
  jointId: string | null;
  tab: Tab;
  across: JointSection['across'];
  /** 0: seated, 1: pulled well apart. */
  explode: number;
  /** Parts that are pulled away from the rest each by itself, by their ids. */
  apart: readonly string[];
  /** Parts that are not shown, and those that alone are, by their ids; null for all. */
  hidden: readonly string[];
  alone: readonly string[] | null;
  /** The build volume is shown, around the part of this id while that is seen. */
  bedShown: boolean;
  bedOf: string | null;
  /** The bench is clipped through the chosen peg. */
  clipped: boolean;
  /** The facet that is shown; null for that of the chosen joint. */
  facet: number | null;
  /** A click on the face drawing places a peg. */
  adding: boolean;
  /** A click on the figure looks for the narrowest place of that limb. */
  seeking: boolean;
  /** A line that is being drawn over the figure, click by click: its points so far, and the way it will be swept. */
  drawing: LineDraft | null;
  /** An outline that is being drawn for a joint, corner by corner, in the frame of its face, mm. */
  outlining: { seamId: string; jointId: string; points: readonly Vec2[] } | null;
  /** The point of the chosen seam's line whose fields are shown. */
  linePoint: number;
  /** The plane that the chosen seam is to be mirrored across, while one is being chosen. */
  mirroring: Mirroring | null;
  theme: Theme;
  /** The main axis each seam's tilt is told from. */
  homes: Record<string, Vec3>;
  /** A place the camera is asked to go to, and from which side if that matters; a new object for each asking. */
  lookAt: { at: Vec3; from?: Vec3 } | null;
  /** The defect that is being looked at, and which of its places. */
  visiting: { kind: DefectKind; index: number } | null;
  /** Raised to ask the camera to fit the figure. */
  fitCount: number;
  /** A job waiting for the sculpt it names. */
  awaiting: Job | null;
}

/** File coordinates; the way is known from the first click on: that from which one looked. */
export interface LineDraft {
  points: readonly Vec3[];
  along: Vec3 | null;
}

/** A plane to mirror across: the one found for the figure, or square to an axis at so many mm along it. */
export interface Mirroring {
  across: 'found' | 'x' | 'y' | 'z';
  offsetMm: number;
}

export interface Busy {
  what: 'opening' | 'evaluating' | 'exporting' | 'examining' | 'trying';
  step: Step | null;
  /** 0 to 1; null while nothing is known yet. */
  done: number | null;
  /** It may be over before it would be worth telling. */
  isBrief?: true;
}

export interface Message {
  tone: 'info' | 'error';
  said: Said;
  /** The job it is about: what it names goes by the names of that one. */
  job: Job;
  /** True where the job is at fault: working it out well takes the message away again. */
  aboutJob?: boolean;
}

export interface Derived {
  summary: SculptSummary | null;
  mesh: DisplayMesh | null;
  /** How `summary` was opened, and of which files: what a job says of its sculpt may be ahead of it. */
  openedAs: Job['sculpt'] | null;
  openedFiles: readonly SculptFile[] | null;
  /** The file that is on its way to the bench, '' before it is known which that is; null where none is. */
  coming: string | null;
  /** What is being opened, seen before it is ready. */
  glimpse: Glimpse | null;
  /** What was found when the sculpt was looked over. */
  health: Health | null;
  /** Bodies of it that touch, once they are looked for. */
  touching: readonly TouchingBodies[];
  /** Across which plane it is the most its own mirror image, and how much, once that is asked for. */
  symmetry: SculptSymmetry | null;
  /** The same across the plane that is being chosen to mirror a seam. */
  symmetryAcross: SculptSymmetry | null;
  /** A change of shape that was tried, to be agreed to or not. */
  tried: { mend: Mend; trial: Trial } | null;
  /** What would bring a joint of a job clear, once that is asked. */
  jointMends: { job: Job; seamId: string; jointId: string; mends: readonly JointMend[] } | null;
  /** What would have a seam's parts go together in one way only, once that is asked. */
  oneWayMends: { job: Job; seamId: string; mends: readonly OneWayMend[] } | null;
  view: EvaluationView | null;
  /** The job that `view` answers. */
  viewJob: Job | null;
  /** The chosen seam's facets where it is being dragged, ahead of the evaluation. */
  live: { seamId: string; faces: readonly LiveFace[] } | null;
  busy: Busy | null;
  message: Message | null;
  /** Why a job cannot be worked out or handed over. It stays until the job is another one, or is worked out. */
  refusal: { job: Job; message: Message } | null;
  /** What became of having the finished parts of a job proved. */
  proof: { job: Job; proving: Proving } | null;
}

export const initialState = (job: Job, theme: Theme): BenchState => ({
  saved: { history: startHistory({ job, files: [] }), keptBy: 'here' },
  sitting: {
    seamId: null,
    jointId: null,
    tab: 'seam',
    across: 'width',
    explode: 0,
    apart: [],
    hidden: [],
    alone: null,
    bedShown: false,
    bedOf: null,
    clipped: false,
    facet: null,
    adding: false,
    seeking: false,
    drawing: null,
    outlining: null,
    linePoint: 0,
    mirroring: null,
    theme,
    homes: {},
    lookAt: null,
    visiting: null,
    fitCount: 0,
    awaiting: null,
  },
  derived: {
    summary: null,
    mesh: null,
    openedAs: null,
    openedFiles: null,
    coming: '',
    glimpse: null,
    health: null,
    touching: [],
    symmetry: null,
    symmetryAcross: null,
    tried: null,
    jointMends: null,
    oneWayMends: null,
    view: null,
    viewJob: null,
    live: null,
    busy: null,
    message: null,
    refusal: null,
    proof: null,
  },
});

export const jobOf = (state: BenchState): Job => state.saved.history.present.job;

/** The files of the sculpt that the job is about. */
export const filesOnBench = (state: BenchState): readonly SculptFile[] => state.saved.history.present.files;

/** What the last evaluation came to for a seam; null where it has none. */
export const seamResultOf = ({ derived }: BenchState, seamId: string | null): SeamResult | null =>
  derived.view?.seams.find(({ id }) => id === seamId) ?? null;

/** The same for one of its joints. */
export const jointResultOf = (
  state: BenchState,
  seamId: string | null,
  jointId: string | null,
): JointResult | null =>
  seamResultOf(state, seamId)?.joints.find(({ settled }) => settled.id === jointId) ?? null;

/** The facets of a seam that can be looked at, as it was worked out last: those that meet the figure and are no bits of a curve. */
export const facetsToShow = (state: BenchState, seamId: string | null): number[] =>
  seamResultOf(state, seamId)?.facets.flatMap(({ outlines, isBent }, facet) =>
    outlines.length > 0 && !isBent ? [facet] : [],
  ) ?? [];

/** True for a seam of which nothing can be looked at because it is curved all along. */
export const isBentAllAlong = (state: BenchState, seamId: string | null): boolean =>
  facetsToShow(state, seamId).length === 0 &&
  seamResultOf(state, seamId)?.facets.some(({ isBent }) => isBent) === true;

/** The facet of a seam that is shown: the one asked for, that of the chosen joint, else the first. */
export function facetOf(state: BenchState, seamId: string | null): number {
  const { facet, jointId } = state.sitting;
  const shown = facetsToShow(state, seamId);
  if (facet !== null && shown.includes(facet)) return facet;
  return jointResultOf(state, seamId, jointId)?.facet ?? shown[0] ?? 0;
}

/** The facet shown of a seam that is being dragged; null where none is, or it meets nothing there. */
export const liveFaceOf = (state: BenchState, seamId: string | null): LiveFace | null => {
  const { live } = state.derived;
  return live?.seamId === seamId ? (live?.faces[facetOf(state, seamId)] ?? live?.faces[0] ?? null) : null;
};

/** All facets of a seam as they are shown. */
export const facesOnBench = (state: BenchState, seamId: string | null): readonly FaceResult[] => {
  const { live } = state.derived;
  return (live?.seamId === seamId ? live?.faces : seamResultOf(state, seamId)?.facets) ?? NO_FACES;
};

const NO_FACES: readonly FaceResult[] = [];

/** True where a seam that is being dragged meets nothing. */
export const isOffFigure = ({ derived: { live } }: BenchState, seamId: string | null): boolean =>
  live !== null && live.seamId === seamId && live.faces.every(({ outlines }) => outlines.length === 0);

/** A seam's face as it is shown: where it is being dragged if it is, else as it was worked out last. */
export const faceOnBench = (state: BenchState, seamId: string | null): FaceResult | null => {
  const { live } = state.derived;
  if (live?.seamId === seamId) return liveFaceOf(state, seamId);
  return seamResultOf(state, seamId)?.facets[facetOf(state, seamId)] ?? null;
};

/** True while a hand holds something of the job: what it does is not done yet. */
export const isHeld = (state: BenchState): boolean => state.saved.history.before !== null;

/** True where the sculpt on the bench is what the job says of it, taken and mended as it says. */
export const isSculptCurrent = (state: BenchState): boolean =>
  state.derived.openedFiles === filesOnBench(state) &&
  opensAlike(state.derived.openedAs, jobOf(state).sculpt);

/** Why the job as it is now is refused; null where it is not. */
export const refusalOf = (state: BenchState): Message | null => {
  const { refusal } = state.derived;
  return refusal?.job === jobOf(state) ? refusal.message : null;
};

/**
 * Why what is shown is not of the job as it is now: it is refused or was stopped, is being worked out, or waits to be.
 * Null where it is, while a hand is at it, and for the moment that an edit takes.
 */
export function staleness(state: BenchState): 'refused' | 'working' | 'waiting' | null {
  const { view, viewJob, busy, summary } = state.derived;
  if (view === null || summary === null || !summary.solid) return null;
  if (viewJob === jobOf(state) && isSculptCurrent(state)) return null;
  if (busy !== null && busy.what !== 'exporting') return busy.isBrief ? null : 'working';
  if (refusalOf(state)) return 'refused';
  return isHeld(state) ? null : 'waiting';
}

/** Asked at every move of a hand, which leaves the sculpt the very same. */
const opensAlike = (a: Job['sculpt'] | null, b: Job['sculpt']): boolean =>
  a === b || (a !== null && keyOf(a) === keyOf(b));

/** Equal for what opens alike. */
const keyOf = ({ file, also, unit, scale, turn, mend }: Job['sculpt']): string =>
  JSON.stringify([file, also ?? [], unit, scale, turn, mend ?? []]);
