import { availableParallelism } from 'node:os';
import { extname } from 'node:path';
import { loadKernel } from '../kernel/load.ts';
import type { Part } from '../mesh/part/part.ts';
import { type PartProof, proofsBy } from '../pipeline/prove-parts.ts';
import type { OnProgress } from '../progress.ts';

/** Proves the finished parts of one figure. */
export interface Prover {
  /** Begins; what else is done meanwhile delays it only where it is done in this thread. */
  prove(parts: readonly Part[], onProgress: OnProgress): Promise<PartProof[]>;
  /** Lets go of what it holds; a proof that is under way is refused with `cancelled`. */
  end(): void;
}

/** A figure of fewer bytes is proved in this thread before another would have begun: some 80,000 triangles in binary STL. */
const THREADS_FROM_BYTES = 4_000_000;

/** From its sources the command has no threads, see `inNode`. */
const IS_BUNDLE = extname(import.meta.filename) === '.js';

/**
 * Whatever suits a figure of that many bytes: threads with a kernel each, as many as can run at once and get a part,
 * which load while the figure is read; or this thread.
 */
export async function proverFor(bytes: number, partCount: number): Promise<Prover> {
  if (bytes < THREADS_FROM_BYTES || !IS_BUNDLE) return HERE;
  const [{ createKernelWorker }, { inNode }, { proveSideBySide }] = await Promise.all([
    import('../worker/kernel-worker.ts'),
    import('../worker/node/kernel-thread.ts'),
    import('../worker/prove-side-by-side.ts'),
  ]);
  const count = Math.min(partCount, availableParallelism());
  const workers = Array.from({ length: count }, () => createKernelWorker(inNode));
  for (const worker of workers) worker.start();
  return {
    prove: (parts, onProgress) => proveSideBySide(workers, parts, (done) => onProgress('proving', done)),
    end() {
      for (const worker of workers) worker.stop();
    },
  };
}

const HERE: Prover = {
  prove: async (parts, onProgress) =>
    proofsBy(await loadKernel(), parts, (done) => onProgress('proving', done)),
  end() {},
};
