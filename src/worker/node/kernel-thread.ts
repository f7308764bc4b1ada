import { type Transferable, Worker } from 'node:worker_threads';
import type { SpawnKernel } from '../kernel-worker.ts';

/**
 * A thread of the command line's with a kernel of its own. It keeps no process alive but for a task. Its code is there
 * in the bundle alone, beside all else: threads load no TypeScript.
 */
export const inNode: SpawnKernel = (say) => {
  const worker = new Worker(new URL('./kernel-entry.js', import.meta.url));
  worker.unref();
  worker.on('message', (answer) => {
    worker.unref();
    say(answer);
  });
  worker.on('error', () => say({ type: 'lost', how: 'crashed' }));
  // It may end by itself, as where it has used up its memory.
  worker.on('exit', () => say({ type: 'lost', how: 'crashed' }));
  return {
    send(task, transfer) {
      worker.ref();
      worker.postMessage(task, transfer as Transferable[]);
    },
    end: () => void worker.terminate(),
  };
};
