import { PegwrightError } from '../errors.ts';
import { partBuffers } from './part-buffers.ts';
import type { KernelAnswer, KernelTask, Loss } from './protocol.ts';

/** Gives tasks to a worker with a kernel of its own, one when the other is done. */
export interface KernelWorker {
  /**
   * Answers `lost` where the worker could not be loaded, failed or took longer than any sound part does; rejects with
   * PegwrightError `cancelled` where it was stopped. The part or mesh moves to the worker.
   */
  ask(task: KernelTask): Promise<KernelAnswer>;
  /** Ends what runs and drops what waits. The next task has a new worker. */
  stop(): void;
}

/** Time a task may take: a kernel that hangs never says so. */
const WATCH_MS = 30_000;
const WATCH_MS_PER_TRIANGLE = 0.05;

export function createKernelWorker(): KernelWorker {
  let worker: Worker | null = null;
  let refuse: ((error: PegwrightError) => void) | null = null;
  let queue: Promise<unknown> = Promise.resolve();
  let stops = 0;

  function end(): void {
    worker?.terminate();
    worker = null;
  }

  function run(task: KernelTask): Promise<KernelAnswer> {
    worker ??= new Worker(new URL('./kernel-entry.ts', import.meta.url), { type: 'module' });
    const mine = worker;
    const { transfer, triangles } = loadOf(task);
    let watchdog: ReturnType<typeof setTimeout> | undefined;
    return new Promise<KernelAnswer>((resolve, reject) => {
      // After a trap the kernel's instance is finished, and the worker with it.
      const lose = (how: Loss) => {
        if (mine === worker) end();
        resolve({ type: 'lost', how });
      };
      refuse = reject;
      watchdog = setTimeout(() => lose('timed-out'), WATCH_MS + triangles * WATCH_MS_PER_TRIANGLE);
      mine.onmessage = ({ data }: MessageEvent<KernelAnswer>) =>
        data.type === 'lost' ? lose(data.how) : resolve(data);
      mine.onerror = (event) => {
        event.preventDefault();
        lose(isLoadFailure(event) ? 'not-loaded' : 'crashed');
      };
      mine.postMessage(task, transfer);
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
