import { PegwrightError } from '../errors.ts';
import { partBuffers } from './part-buffers.ts';
import type { KernelAnswer, KernelTask } from './protocol.ts';

/** Gives tasks to a worker with a kernel of its own, one when the other is done. */
export interface KernelWorker {
  /**
   * Null where the kernel was lost over it or took longer than any sound part does; rejects with PegwrightError
   * `cancelled` where it was stopped. The part or mesh moves to the worker.
   */
  ask(task: KernelTask): Promise<KernelAnswer | null>;
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

  function run(task: KernelTask): Promise<KernelAnswer | null> {
    worker ??= new Worker(new URL('./kernel-entry.ts', import.meta.url), { type: 'module' });
    const mine = worker;
    const { transfer, triangles } = loadOf(task);
    let watchdog: ReturnType<typeof setTimeout> | undefined;
    return new Promise<KernelAnswer | null>((resolve, reject) => {
      // After a trap the kernel's instance is finished, and the worker with it.
      const lose = () => {
        if (mine === worker) end();
        resolve(null);
      };
      refuse = reject;
      watchdog = setTimeout(lose, WATCH_MS + triangles * WATCH_MS_PER_TRIANGLE);
      mine.onmessage = ({ data }: MessageEvent<KernelAnswer | null>) => (data ? resolve(data) : lose());
      mine.onerror = (event) => {
        event.preventDefault();
        lose();
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
