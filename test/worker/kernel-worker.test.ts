import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { createKernelWorker } from '../../src/worker/kernel-worker.ts';
import type { KernelAnswer, KernelTask, Loss } from '../../src/worker/protocol.ts';

/** Workers that answer when they are told to. */
class HeldWorker {
  static all: HeldWorker[] = [];
  tasks: KernelTask[] = [];
  isEnded = false;
  onmessage: ((event: { data: KernelAnswer }) => void) | null = null;
  onerror: ((event: { preventDefault(): void; message?: string }) => void) | null = null;
  constructor() {
    HeldWorker.all.push(this);
  }
  postMessage(task: KernelTask): void {
    this.tasks.push(task);
  }
  terminate(): void {
    this.isEnded = true;
  }
  answer(data: KernelAnswer): void {
    this.onmessage?.({ data });
  }
}

const task = (): KernelTask => ({
  type: 'prove',
  mesh: { positions: new Float32Array(9), triangles: new Uint32Array(3) },
});
const proved = (triangles: number): KernelAnswer => ({
  type: 'proved',
  proof: { triangles, volumeMm3: 1 },
});
const lostTo = (how: Loss): KernelAnswer => ({ type: 'lost', how });
const turn = () => new Promise((done) => setTimeout(done));

describe('a worker with a kernel of its own', () => {
  beforeEach(() => {
    HeldWorker.all = [];
    vi.stubGlobal('Worker', HeldWorker);
  });
  afterEach(() => {
    vi.useRealTimers();
    vi.unstubAllGlobals();
  });

  it('is given one task when the other is done', async () => {
    const kernel = createKernelWorker();
    const answers = [kernel.ask(task()), kernel.ask(task())];
    await turn();
    const [worker] = HeldWorker.all;
    expect(worker.tasks).toHaveLength(1);
    worker.answer(proved(1));
    expect(await answers[0]).toEqual(proved(1));
    await turn();
    expect(worker.tasks).toHaveLength(2);
    worker.answer(proved(2));
    expect(await answers[1]).toEqual(proved(2));
    expect(HeldWorker.all).toHaveLength(1);
  });

  it('tells a kernel that was lost from one that was stopped', async () => {
    const kernel = createKernelWorker();
    const [lost, next, waiting] = [kernel.ask(task()), kernel.ask(task()), kernel.ask(task())];
    await turn();
    HeldWorker.all[0].answer(lostTo('crashed'));
    expect(await lost).toEqual(lostTo('crashed'));
    expect(HeldWorker.all[0].isEnded).toBe(true);
    await turn();
    expect(HeldWorker.all[1].tasks).toHaveLength(1);
    const refused = Promise.all([
      expect(next).rejects.toMatchObject({ code: 'cancelled' }),
      expect(waiting).rejects.toMatchObject({ code: 'cancelled' }),
    ]);
    kernel.stop();
    await refused;
    expect(HeldWorker.all[1].isEnded).toBe(true);
    expect(HeldWorker.all[1].tasks).toHaveLength(1);
    const after = kernel.ask(task());
    await turn();
    HeldWorker.all[2].answer(proved(3));
    expect(await after).toEqual(proved(3));
  });

  it('tells a script that could not be fetched from one that failed, and asks for it anew the next time', async () => {
    const kernel = createKernelWorker();
    const [missing, failed, next] = [kernel.ask(task()), kernel.ask(task()), kernel.ask(task())];
    await turn();
    HeldWorker.all[0].onerror?.({ preventDefault: () => {} });
    expect(await missing).toEqual(lostTo('not-loaded'));
    await turn();
    HeldWorker.all[1].onerror?.({ preventDefault: () => {}, message: 'out of memory' });
    expect(await failed).toEqual(lostTo('crashed'));
    await turn();
    HeldWorker.all[2].answer(proved(4));
    expect(await next).toEqual(proved(4));
  });

  it('gives each task its own time', async () => {
    vi.useFakeTimers();
    const kernel = createKernelWorker();
    const [first, second] = [kernel.ask(task()), kernel.ask(task())];
    await vi.advanceTimersByTimeAsync(29_000);
    HeldWorker.all[0].answer(proved(1));
    expect(await first).toEqual(proved(1));
    await vi.advanceTimersByTimeAsync(29_000);
    HeldWorker.all[0].answer(proved(2));
    expect(await second).toEqual(proved(2));
    const hung = kernel.ask(task());
    await vi.advanceTimersByTimeAsync(31_000);
    expect(await hung).toEqual(lostTo('timed-out'));
    expect(HeldWorker.all[0].isEnded).toBe(true);
  });
});
