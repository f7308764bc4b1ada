import { vi } from 'vitest';
import { type ErrorCode, toErrorRecord } from '../../src/errors.ts';
import { loadKernel } from '../../src/kernel/load.ts';
import { kernelJoin } from '../../src/kernel/solid.ts';
import { partOf } from '../../src/mesh/part/part.ts';
import { solidToProve } from '../../src/pipeline/proof.ts';
import { createEngine } from '../../src/worker/client.ts';
import { createKernelWorker } from '../../src/worker/kernel-worker.ts';
import type { KernelAnswer, KernelTask, Reply, Request } from '../../src/worker/protocol.ts';
import { lumpySphere } from '../support/figures.ts';
import { jobOf } from '../support/job.ts';
import { evaluated, refusalIn } from '../support/told-codes.ts';
import type { CodeCase } from './code-case.ts';

const ball = lumpySphere(3, 20);

/** A boolean of the kernel on a ball, or on one that lacks a triangle. */
const joined = (lacking: number) => async () => {
  const kernel = await loadKernel();
  const triangles = ball.triangles.slice(lacking * 3);
  return refusalIn(() => kernelJoin(kernel, partOf({ ...ball, triangles }), []));
};

/** A worker that does with each request what a test wants of it. */
function workersThat(act: (worker: EventTarget & ActingWorker, request: Request | KernelTask) => void) {
  return class extends EventTarget {
    onmessage: ((event: { data: KernelAnswer }) => void) | null = null;
    onerror: ((event: { preventDefault(): void; message?: string }) => void) | null = null;
    postMessage(request: Request | KernelTask): void {
      queueMicrotask(() => act(this, request));
    }
    terminate(): void {}
  };
}
interface ActingWorker {
  onmessage: ((event: { data: KernelAnswer }) => void) | null;
}

async function withWorkers<T>(made: unknown, work: () => Promise<T>): Promise<T> {
  vi.stubGlobal('Worker', made);
  try {
    return await work();
  } finally {
    vi.unstubAllGlobals();
  }
}

/** The engine asked for something, and its worker dying over it or answering. */
const asked = (dies: boolean) => () =>
  withWorkers(
    workersThat((worker, request) => {
      const reply = { type: 'rested', id: (request as Request).id, down: [0, 0, -1] } as Reply;
      worker.dispatchEvent(
        dies
          ? Object.assign(new Event('error', { cancelable: true }), {
              message: 'memory access out of bounds',
            })
          : new MessageEvent('message', { data: reply }),
      );
    }),
    async () => {
      const engine = createEngine();
      const codes = await engine.rest().then(
        () => [],
        (thrown) => [codeOf(thrown)],
      );
      engine.dispose();
      return codes;
    },
  );

const codeOf = (thrown: unknown): string => (thrown as { code?: string }).code ?? toErrorRecord(thrown).code;

/** A task of a kernel's worker, stopped before its answer or answered. */
const tasked = (isStopped: boolean) => () =>
  withWorkers(
    workersThat((worker) => {
      if (!isStopped) worker.onmessage?.({ data: { type: 'proved', proof: { triangles: 1, volumeMm3: 1 } } });
    }),
    async () => {
      const kernel = createKernelWorker();
      const task = refusalIn(() => kernel.ask({ type: 'prove', mesh: ball }));
      if (isStopped) setTimeout(() => kernel.stop());
      return task;
    },
  );

/** The engine's proof of a part of which the kernel says what it is, or something else. */
const proved = (offMm3: number) => async () => {
  const { evaluation, tree } = await evaluated(ball, jobOf([]));
  const [part] = evaluation.parts;
  const mesh = solidToProve(tree.parts[0].part);
  return withWorkers(
    workersThat((worker, request) => {
      if (request.type === 'solids') {
        const data = { type: 'solids', id: request.id, solids: [{ part, mesh }] } as Reply;
        worker.dispatchEvent(new MessageEvent('message', { data }));
      } else {
        const { triangles, volumeMm3 } = part;
        worker.onmessage?.({ data: { type: 'proved', proof: { triangles, volumeMm3: volumeMm3 + offMm3 } } });
      }
    }),
    async () => {
      const engine = createEngine();
      const codes = await refusalIn(() => engine.prove(jobOf([])));
      engine.dispose();
      return codes;
    },
  );
};

export const REFUSAL_CASES: CodeCase<ErrorCode>[] = [
  { code: 'kernel-refused', comes: joined(1), stays: joined(0) },
  { code: 'kernel-lost', comes: asked(true), stays: asked(false) },
  { code: 'cancelled', comes: tasked(true), stays: tasked(false) },
  { code: 'part-unproved', comes: proved(50), stays: proved(0) },
];
