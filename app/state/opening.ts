import {
  demoJob,
  type Job,
  MM_PER_UNIT,
  PROCESSES,
  parseJob,
  sentenceOf,
  type Unit,
} from '../../src/index.ts';
import { words } from '../messages.ts';
import { type BenchState, jobOf, type Message } from './bench-state.ts';
import { calmly } from './calmly.ts';
import { type createEvaluator, patchDerived } from './evaluator.ts';
import { edit, startHistory } from './history.ts';
import { freshJob, rescaledJob } from './new-seam.ts';
import type { BenchStore, EnginePort, Shelf, Surroundings } from './ports.ts';
import { asErrorRecord } from './refusal.ts';
import { refitted } from './selection.ts';

interface Wish {
  blob: Blob;
  name: string;
  /** Left out: what the file declares. */
  unit: Unit | undefined;
  scale: number;
  /** The job to start with; without one, a fresh one for the sculpt. */
  job?: Job;
}

export interface OpeningParts {
  store: BenchStore;
  engine: EnginePort;
  shelf: Shelf;
  around: Surroundings;
  evaluator: ReturnType<typeof createEvaluator>;
}

/** Everything that puts a sculpt or a job on the bench. A failed opening leaves the bench as it was. */
export function createOpening({ store, engine, shelf, around, evaluator }: OpeningParts) {
  const say = (message: Message) => patchDerived(store, { message });

  /** True when it worked; otherwise nothing changed but the message. */
  async function open(wish: Wish): Promise<boolean> {
    evaluator.forget();
    const busyWith = (step: Parameters<Parameters<EnginePort['open']>[3]>[0] | null, done: number | null) =>
      calmly(() => patchDerived(store, { busy: { what: 'opening', step, done } }));
    busyWith(null, null);
    try {
      const { unit, scale } = wish;
      const opened = await engine.open(wish.blob, wish.name, { unit, scale }, busyWith);
      const job =
        wish.job ??
        freshJob(
          { file: wish.name, unit: opened.summary.unit, scale },
          opened.summary.boundsMm,
          PROCESSES[0]!.process,
        );
      calmly(() => store.setState((s) => placedOnBench(s, wish, job, opened)));
      void shelf
        .saveSculpt(wish.blob, wish.name, job)
        .catch(() => say({ tone: 'info', text: words.notKept }));
      evaluator.now();
      return true;
    } catch (thrown) {
      const record = asErrorRecord(thrown);
      patchDerived(store, { busy: null });
      say(
        record.code === 'cancelled'
          ? { tone: 'info', text: words.openStopped }
          : { tone: 'error', text: sentenceOf(record) },
      );
      // What was on its way for the sculpt that stays was forgotten above.
      const { derived } = store.getState();
      if (derived.viewJob !== jobOf(store.getState())) evaluator.now();
      return false;
    }
  }

  async function openDemo(job: Job = demoJob): Promise<boolean> {
    try {
      const { file, unit, scale } = demoJob.sculpt;
      return await open({ blob: await around.fetchDemo(), name: file, unit, scale, job });
    } catch {
      say({ tone: 'error', text: words.demoMissing });
      return false;
    }
  }

  async function openJob(job: Job, name: string): Promise<void> {
    const { saved } = store.getState();
    const { file, unit, scale } = job.sculpt;
    if (saved.sculpt?.name === file) {
      const now = jobOf(store.getState()).sculpt;
      if (now.unit === unit && now.scale === scale) {
        store.setState((s) => refitted({ ...s, saved: { ...s.saved, history: edit(s.saved.history, job) } }));
        say({ tone: 'info', text: words.jobApplied(name) });
        evaluator.now();
        void shelf.saveJob(job).catch(() => undefined);
      } else await open({ blob: saved.sculpt.blob, name: file, unit, scale, job });
    } else if (file === demoJob.sculpt.file) await openDemo(job);
    else {
      store.setState((s) => ({ ...s, sitting: { ...s.sitting, awaiting: job } }));
      say({ tone: 'info', text: words.jobAwaits(name, file) });
    }
  }

  async function openFiles(files: readonly File[]): Promise<void> {
    const jobFile = files.find((file) => /\.json$/i.test(file.name));
    const sculptFile = files.find((file) => file !== jobFile);
    let job: Job | undefined;
    try {
      if (jobFile) job = parseJob(jobFile.name, parsedJson(await jobFile.text()));
    } catch (thrown) {
      say({ tone: 'error', text: sentenceOf(asErrorRecord(thrown)) });
      return;
    }
    if (sculptFile) {
      const wanted = job ?? store.getState().sitting.awaiting ?? undefined;
      const fits = wanted?.sculpt.file === sculptFile.name ? wanted : undefined;
      const { unit, scale } = fits?.sculpt ?? { unit: undefined, scale: 1 };
      await open({ blob: sculptFile, name: sculptFile.name, unit, scale, ...(fits && { job: fits }) });
    } else if (job && jobFile) await openJob(job, jobFile.name);
  }

  /** Reads the same file again with its numbers in another unit; the seams keep their places on the figure. */
  async function setUnit(unit: Unit): Promise<void> {
    const { saved, derived } = store.getState();
    const job = jobOf(store.getState());
    const before = job.sculpt.unit ?? derived.summary?.unit ?? 'mm';
    if (saved.sculpt === null || before === unit) return;
    const ratio = MM_PER_UNIT[unit] / MM_PER_UNIT[before];
    const { blob, name } = saved.sculpt;
    await open({ blob, name, unit, scale: job.sculpt.scale, job: rescaledJob(job, unit, ratio) });
  }

  /** The last job and sculpt, or the demo figure when there is none or it can not be read. */
  async function start(): Promise<void> {
    try {
      const kept = await shelf.load();
      if (kept) {
        const job = parseJob(kept.name, kept.job);
        const { unit, scale } = job.sculpt;
        if (await open({ blob: kept.blob, name: kept.name, unit, scale, job })) return;
      }
    } catch {
      // A store that can not be read must not keep anyone from starting: the demo figure stands in.
    }
    await openDemo();
  }

  return { open, openDemo, openFiles, setUnit, start };
}

/** JSON or, for text that is none, something no job can be, so that the job's own reader refuses it. */
function parsedJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

function placedOnBench(
  state: BenchState,
  wish: Wish,
  job: Job,
  opened: Awaited<ReturnType<EnginePort['open']>>,
): BenchState {
  return refitted({
    saved: { history: startHistory(job), sculpt: { blob: wish.blob, name: wish.name } },
    sitting: {
      ...state.sitting,
      seamId: null,
      pegIndex: null,
      explode: 0,
      clipped: false,
      adding: false,
      homes: {},
      lookAt: null,
      awaiting: null,
      fitCount: state.sitting.fitCount + 1,
    },
    derived: {
      ...state.derived,
      summary: opened.summary,
      mesh: opened.mesh,
      view: null,
      viewJob: null,
      live: null,
      busy: null,
      message: null,
    },
  });
}
