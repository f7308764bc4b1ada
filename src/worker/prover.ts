import type { Proof } from '../kernel/prove.ts';
import type { Mesh } from '../mesh/mesh.ts';
import type { ProofReply, ProofRequest } from './protocol.ts';

/** Proves parts in a worker of its own, one after the other. */
export interface Prover {
  /** Null where the kernel was lost over the part or took longer than any sound part does. The mesh moves to the worker. */
  prove(mesh: Mesh): Promise<Proof | null>;
  /** Ends what runs; its promises answer null. */
  stop(): void;
}

/** Time a proof may take: a kernel that hangs never says so. */
const WATCH_MS = 30_000;
const WATCH_MS_PER_TRIANGLE = 0.05;

export function createProver(): Prover {
  let worker: Worker | null = null;
  let nextId = 1;
  const pending = new Map<number, (proof: Proof | null) => void>();

  function settle(id: number, proof: Proof | null): void {
    pending.get(id)?.(proof);
    pending.delete(id);
  }

  function stop(): void {
    worker?.terminate();
    worker = null;
    for (const id of [...pending.keys()]) settle(id, null);
  }

  function spawn(): Worker {
    const fresh = new Worker(new URL('./prover-entry.ts', import.meta.url), { type: 'module' });
    fresh.addEventListener('message', ({ data }: MessageEvent<ProofReply>) => {
      settle(data.id, data.proof);
      // After a trap the kernel's instance is finished, and the worker with it.
      if (data.error) stop();
    });
    fresh.addEventListener('error', (event) => {
      event.preventDefault();
      if (fresh === worker) stop();
    });
    return fresh;
  }

  return {
    prove(mesh) {
      worker ??= spawn();
      const id = nextId++;
      const request: ProofRequest = { id, mesh };
      worker.postMessage(request, [mesh.positions.buffer, mesh.triangles.buffer] as ArrayBuffer[]);
      const patience = WATCH_MS + (mesh.triangles.length / 3) * WATCH_MS_PER_TRIANGLE;
      const watchdog = setTimeout(stop, patience);
      return new Promise<Proof | null>((resolve) => pending.set(id, resolve)).finally(() =>
        clearTimeout(watchdog),
      );
    },
    stop,
  };
}
