import {
  createLatest,
  demoJob,
  type Job,
  type Notice,
  notice,
  PROCESSES,
  readJob,
  type Said,
  type SculptFile,
  type SculptSummary,
} from '../../src/index.ts';
import { filesOnBench, isSculptCurrent, jobOf, type Saved } from './bench-state.ts';
import { calmly } from './calmly.ts';
import { type createEvaluator, patchDerived } from './evaluator.ts';
import { edit } from './history.ts';
import { freshJob } from './new-seam.ts';
import { openedAnew, placedOnBench } from './placing.ts';
import type { BenchStore, EnginePort, Shelf, Surroundings } from './ports.ts';
import { asErrorRecord, refusalMessage } from './refusal.ts';
import { refitted } from './selection.ts';

/** Files to put on the bench. */
interface Wish {
  files: readonly SculptFile[];
  /** The job to start with; without one, a fresh one for the sculpt. */
  job?: Job;
}

/** A glimpse is drawn only where the rest takes longer than this, ms: drawing a big figure twice would take as long. */
const GLIMPSE_AFTER_MS = 250;

export interface OpeningParts {
  store: BenchStore;
  engine: EnginePort;
  shelf: Shelf;
  around: Surroundings;
  evaluator: ReturnType<typeof createEvaluator>;
  /** Called for a sculpt that cannot be cut as it is. */
  onUnsound: () => void;
}

/** Everything that puts a sculpt or a job on the bench. A failed opening leaves the bench as it was. */
export function createOpening({ store, engine, shelf, around, evaluator, onUnsound }: OpeningParts) {
  const say = (tone: 'info' | 'error', said: Said) =>
    patchDerived(store, { message: { tone, said, job: jobOf(store.getState()) } });

  /** Openings take turns, so that bench and engine always agree on the sculpt; one that another overtook is let go. */
  const inTurn = createLatest(async (work: () => Promise<boolean>) => work());
  const open = async (wish: Wish): Promise<boolean> => (await inTurn(() => openFresh(wish))) === true;
  /** Opens the files on the bench anew where the job takes them otherwise than they were taken. */
  const reopen = async (): Promise<boolean> => (await inTurn(openAgain)) === true;

  async function read(files: readonly SculptFile[], sculpt: Partial<Job['sculpt']>) {
    evaluator.forget();
    const { unit, scale = 1, turn, mend } = sculpt;
    patchDerived(store, { coming: files[0]!.name, busy: { what: 'opening', step: null, done: null } });
    let soon: ReturnType<typeof setTimeout> | undefined;
    try {
      return await engine.open(
        files,
        { unit, scale, turn, mend },
        (step, done) => calmly(() => patchDerived(store, { busy: { what: 'opening', step, done } })),
        (glimpse) => {
          soon = setTimeout(() => calmly(() => patchDerived(store, { glimpse })), GLIMPSE_AFTER_MS);
        },
      );
    } finally {
      clearTimeout(soon);
    }
  }

  async function openFresh({ files, job: wanted }: Wish): Promise<boolean> {
    try {
      const opened = await read(files, wanted?.sculpt ?? {});
      const job = wanted ?? jobFor(files, opened.summary);
      const before = store.getState();
      calmly(() => store.setState((s) => placedOnBench(s, files, job, opened)));
      if (filesOnBench(before).length > 0)
        say('info', notice('opened-instead', { file: job.sculpt.file, before: jobOf(before).sculpt.file }));
      keep();
      afterwards(opened.summary);
      return true;
    } catch (thrown) {
      return refuse(thrown, { stopped: notice('open-stopped'), aboutJob: false });
    }
  }

  async function openAgain(): Promise<boolean> {
    const state = store.getState();
    const { present } = state.saved.history;
    const { sculpt } = present.job;
    if (isSculptCurrent(state)) return true;
    try {
      const opened = await read(filesOf(sculpt, present.files), sculpt);
      calmly(() => store.setState((s) => openedAnew(s, present, opened)));
      keep();
      afterwards(opened.summary);
      return true;
    } catch (thrown) {
      return refuse(thrown, { stopped: notice('reopen-stopped'), aboutJob: true });
    }
  }

  /** The files that this tab kept last; null where another tab's may lie there. */
  let keptFiles: readonly SculptFile[] | null = null;
  /**
   * Keeps the job, and the files of its sculpt whenever they are others than those kept: a job beside the files of
   * another figure could not be opened at the next visit. What cannot be kept is told once. The demo that stands in
   * for what could not be opened is not kept in its place until somebody works on it.
   */
  function keep(): void {
    const state = store.getState();
    const files = filesOnBench(state);
    if (files.length === 0 || state.saved.keptBy !== 'here' || jobOf(state) === standIn) return;
    const isSameSculpt = files === keptFiles;
    keptFiles = files;
    const kept = isSameSculpt ? shelf.saveJob(jobOf(state)) : shelf.saveSculpt(files, jobOf(state));
    void kept.catch(() => {
      keptFiles = null;
      tellNotKept();
    });
  }
  let standIn: Job | null = null;
  const keptBy = (who: Saved['keptBy']) =>
    store.setState((s) => ({ ...s, saved: { ...s.saved, keptBy: who } }));
  /** What is on this tab's bench is kept from now on, in place of what another tab's is. */
  async function keepHere(): Promise<void> {
    if (!(await around.tabs.claim(true))) return;
    keptBy('here');
    keptFiles = null;
    keep();
  }
  let isTold = false;
  function tellNotKept(): void {
    if (!isTold) say('info', notice('not-kept'));
    isTold = true;
  }

  function afterwards(summary: SculptSummary): void {
    evaluator.now();
    if (!summary.solid) onUnsound();
    else if (summary.solids.length > 1) void lookForTouching(summary);
  }

  /** Finds the bodies that touch, so that joining them can be offered. Without an answer nothing is offered. */
  async function lookForTouching(summary: SculptSummary): Promise<void> {
    const touching = await engine.touching().catch(() => []);
    if (store.getState().derived.summary === summary) calmly(() => patchDerived(store, { touching }));
  }

  function refuse(thrown: unknown, { stopped, aboutJob }: { stopped: Notice; aboutJob: boolean }): false {
    const job = jobOf(store.getState());
    const message = { ...refusalMessage(thrown, stopped, job), aboutJob };
    patchDerived(store, { coming: null, busy: null, glimpse: null, message });
    if (aboutJob) patchDerived(store, { refusal: { job, message } });
    // What was on its way for the sculpt that stays was forgotten.
    const { derived } = store.getState();
    if (derived.summary?.solid && derived.viewJob !== jobOf(store.getState())) evaluator.now();
    return false;
  }

  async function openDemo(job: Job = demoJob): Promise<boolean> {
    patchDerived(store, { coming: demoJob.sculpt.file });
    try {
      return await open({ files: [{ blob: await around.fetchDemo(), name: demoJob.sculpt.file }], job });
    } catch {
      patchDerived(store, { coming: null });
      say('error', notice('demo-missing'));
      return false;
    }
  }

  async function openJob(job: Job, name: string): Promise<void> {
    const files = filesOnBench(store.getState());
    if (hasAll(files, job)) {
      store.setState((s) => {
        const history = edit(s.saved.history, { job, files });
        return refitted({ ...s, saved: { ...s.saved, history } });
      });
      keep();
      if (isSculptCurrent(store.getState())) evaluator.now();
      else if (!(await reopen())) return;
      say('info', notice('job-applied', { job: name }));
    } else if (job.sculpt.file === demoJob.sculpt.file) await openDemo(job);
    else {
      store.setState((s) => ({ ...s, sitting: { ...s.sitting, awaiting: job } }));
      say('info', notice('job-awaits', { job: name, files: namesOf(job.sculpt) }));
    }
  }

  /** Files chosen or dropped together: a sculpt with all that belongs to it, a job, or both. */
  async function openFiles(chosen: readonly File[]): Promise<void> {
    const jobFile = chosen.find((file) => /\.json$/i.test(file.name));
    const files = chosen.filter((file) => file !== jobFile).map((file) => ({ name: file.name, blob: file }));
    let job: Job | undefined;
    try {
      if (jobFile) job = readJob(jobFile.name, parsedJson(await jobFile.text()));
    } catch (thrown) {
      say('error', asErrorRecord(thrown));
      return;
    }
    if (files.length > 0) {
      const wanted = job ?? store.getState().sitting.awaiting;
      if (wanted && hasAll(files, wanted)) await open({ files: filesOf(wanted.sculpt, files), job: wanted });
      else await open({ files });
    } else if (job && jobFile) await openJob(job, jobFile.name);
  }

  /** The last job and sculpt, or the demo figure when there is none or it can not be opened, which is said. */
  async function start(): Promise<void> {
    around.tabs.onLost(() => keptBy('other-tab'));
    if (!(await around.tabs.claim(false))) keptBy('other-tab');
    const trouble = await openKept();
    if (trouble === 'opened') return;
    if (trouble !== null) standIn = demoJob;
    await openDemo();
    if (trouble !== null) say('error', notice('kept-unopened', { why: trouble }));
  }

  /** @returns what stood in the way, null where nothing was kept. */
  async function openKept(): Promise<'opened' | 'files-gone' | Said | null> {
    try {
      const kept = await shelf.load();
      if (!kept) return null;
      const job = readJob(kept.files[0]!.name, kept.job);
      if (!hasAll(kept.files, job)) return 'files-gone';
      if (await open({ files: kept.files, job })) return 'opened';
      return store.getState().derived.message?.said ?? { code: 'cancelled', facts: {} };
    } catch (thrown) {
      return asErrorRecord(thrown);
    }
  }

  return { open, openDemo, openFiles, reopen, start, keep, keepHere };
}

const namesOf = ({ file, also = [] }: Job['sculpt']): string[] => [file, ...also];

/** The files a job names, in its order, of those that are there. */
const filesOf = (sculpt: Job['sculpt'], files: readonly SculptFile[]): SculptFile[] =>
  namesOf(sculpt).flatMap((name) => files.find((file) => file.name === name) ?? []);

const hasAll = (files: readonly SculptFile[], { sculpt }: Job): boolean =>
  filesOf(sculpt, files).length === namesOf(sculpt).length;

/** The job that newly opened files start with: it names the sculpt's own file first. */
function jobFor(files: readonly SculptFile[], { file, unit, boundsMm }: SculptSummary): Job {
  const also = files.map(({ name }) => name).filter((name) => name !== file);
  const sculpt = { file, ...(also.length > 0 && { also }), unit, scale: 1 };
  return freshJob(sculpt, boundsMm, PROCESSES[0]!.process);
}

/** JSON or, for text that is none, something no job can be, so that the job's own reader refuses it. */
function parsedJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
