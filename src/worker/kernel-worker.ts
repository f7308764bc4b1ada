import { partBuffers } from './part-buffers.ts';
import type { KernelAnswer, KernelReply, KernelRequest, KernelTask } from './protocol.ts';

/** Gives tasks to a worker with a kernel of its own, which does them one after the other. */
export interface KernelWorker {
  /** Null where the kernel was lost over it or took longer than any sound part does. The task's meshes move to the worker. */
  ask(task: KernelTask): Promise<KernelAnswer | null>;
  /** Ends what runs; its promises answer null. The next task has a new worker. */
  stop(): void;
}

/** Time a task may take: a kernel that hangs never says so. */
const WATCH_MS = 30_000;
const WATCH_MS_PER_TRIANGLE = 0.05;

export function createKernelWorker(): KernelWorker {
  let worker: Worker | null = null;
  let nextId = 1;
  const pending = new Map<number, (answer: KernelAnswer | null) => void>();

  function settle(id: number, answer: KernelAnswer | null): void {
    pending.get(id)?.(answer);
    pending.delete(id);
  }

  function stop(): void {
    worker?.terminate();
    worker = null;
    for (const id of [...pending.keys()]) settle(id, null);
  }

  function spawn(): Worker {
    const fresh = new Worker(new URL('./kernel-entry.ts', import.meta.url), { type: 'module' });
    fresh.addEventListener('message', ({ data: { id, answer } }: MessageEvent<KernelReply>) => {
      settle(id, answer);
      // After a trap the kernel's instance is finished, and the worker with it.
      if (answer === null && fresh === worker) stop();
    });
    fresh.addEventListener('error', (event) => {
      event.preventDefault();
      if (fresh === worker) stop();
    });
    return fresh;
  }

  return {
    ask(task) {
      worker ??= spawn();
      const id = nextId++;
      const { transfer, triangles } = loadOf(task);
      worker.postMessage({ id, task } satisfies KernelRequest, transfer);
      const watchdog = setTimeout(stop, WATCH_MS + triangles * WATCH_MS_PER_TRIANGLE);
      return new Promise<KernelAnswer | null>((resolve) => pending.set(id, resolve)).finally(() =>
        clearTimeout(watchdog),
      );
    },
    stop,
  };
}

/** What of a task moves to the worker, and how much it is. */
function loadOf(task: KernelTask): { transfer: Transferable[]; triangles: number } {
  if (task.type === 'join') {
    const { part } = task;
    return {
      transfer: partBuffers(part),
      triangles: part.patches.reduce((n, { triangles }) => n + triangles.length / 3, 0),
    };
  }
  const { positions, triangles } = task.mesh;
  return { transfer: [positions.buffer, triangles.buffer] as ArrayBuffer[], triangles: triangles.length / 3 };
}
