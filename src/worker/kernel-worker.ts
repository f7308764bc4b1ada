import { PegwrightError } from '../errors.ts';
import { partBuffers } from './part-buffers.ts';
import type { KernelAnswer, KernelTask } from './protocol.ts';

/** Gives tasks to a worker with a kernel of its own, one when the other is done. */
export interface KernelWorker {
  /**
   * Answers `lost` where the worker could not be loaded, failed or took longer than any sound part does; rejects with
   * PegwrightError `cancelled` where it was stopped. The part or mesh moves to the worker.
   */
  ask(task: KernelTask): Promise<KernelAnswer>;
  /** Loads it ahead of the first task. */
  start(): void;
  /** Ends what runs and drops what waits. The next task has a new worker. */
  stop(): void;
}

/** A thread that answers one task after the other. */
export interface KernelThread {
  send(task: KernelTask, transfer: Transferable[]): void;
  end(): void;
}

/** Starts a thread, which says what it answers; `lost` where it failed. */
export type SpawnKernel = (say: (answer: KernelAnswer) => void) => KernelThread;

const inPage: SpawnKernel = (say) => {
  const worker = new Worker(new URL('./kernel-entry.ts', import.meta.url), { type: 'module' });
  worker.onmessage = ({ data }: MessageEvent<KernelAnswer>) => say(data);
  worker.onerror = (event) => {
    event.preventDefault();
    say({ type: 'lost', how: isLoadFailure(event) ? 'not-loaded' : 'crashed' });
  };
  return {
    send: (task, transfer) => worker.postMessage(task, transfer),
    end: () => worker.terminate(),
  };
};

/** Time a task may take: a kernel that hangs never says so. */
const WATCH_MS = 30_000;
const WATCH_MS_PER_TRIANGLE = 0.05;

/** @param spawn starts the thread it works in, anew where one was lost. */
export function createKernelWorker(spawn: SpawnKernel = inPage): KernelWorker {
  let thread: KernelThread | null = null;
  /** Told what the thread there is says. */
  let hear: ((answer: KernelAnswer) => void) | null = null;
  let refuse: ((error: PegwrightError) => void) | null = null;
  let queue: Promise<unknown> = Promise.resolve();
  let stops = 0;

  function started(): KernelThread {
    if (thread) return thread;
    const mine = spawn((answer) => {
      if (mine !== thread) return;
      // After a trap the kernel's instance is finished, and the thread with it.
      if (answer.type === 'lost') end();
      hear?.(answer);
    });
    thread = mine;
    return mine;
  }

  function end(): void {
    thread?.end();
    thread = null;
  }

  function run(task: KernelTask): Promise<KernelAnswer> {
    const { transfer, triangles } = loadOf(task);
    let watchdog: ReturnType<typeof setTimeout> | undefined;
    return new Promise<KernelAnswer>((resolve, reject) => {
      refuse = reject;
      hear = resolve;
      watchdog = setTimeout(
        () => {
          end();
          resolve({ type: 'lost', how: 'timed-out' });
        },
        WATCH_MS + triangles * WATCH_MS_PER_TRIANGLE,
      );
      started().send(task, transfer);
    }).finally(() => clearTimeout(watchdog));
  }

  return {
    ask(task) {
      const asked = stops;
      const answer = queue.then(() => {
        if (asked !== stops) throw new PegwrightError('cancelled', {});
        return run(task);
      });
      queue = answer.catch(() => {});
      return answer;
    },
    start() {
      started();
    },
    stop() {
      stops++;
      end();
      refuse?.(new PegwrightError('cancelled', {}));
    },
  };
}

/** A worker whose script cannot be fetched fails without a word; what fails in a running one has a message. */
export const isLoadFailure = (event: Event): boolean => !(event as Partial<ErrorEvent>).message;

/** What of a task moves to the worker, and how much it is. */
function loadOf(task: KernelTask): { transfer: Transferable[]; triangles: number } {
  if (task.type === 'join') {
    const { part } = task;
    const triangles = part.patches.reduce((n, patch) => n + patch.triangles.length / 3, 0);
    return { transfer: partBuffers(part), triangles };
  }
  const { positions, triangles } = task.mesh;
  return {
    transfer: [positions.buffer, triangles.buffer] as ArrayBuffer[],
    triangles: triangles.length / 3,
  };
}
