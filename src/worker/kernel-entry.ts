import { toErrorRecord } from '../errors.ts';
import { loadKernel } from '../kernel/load.ts';
import { proveSolid } from '../kernel/prove.ts';
import { kernelJoin } from '../kernel/solid.ts';
import { partBuffers } from './part-buffers.ts';
import type { KernelAnswer, KernelTask } from './protocol.ts';

/** A worker with an instance of the kernel of its own, so that what it does neither waits for edits nor holds them up. */

self.addEventListener('message', async ({ data }: MessageEvent<KernelTask>) => {
  const answer = await answerTo(data);
  self.postMessage(answer, { transfer: answer.type === 'joined' ? partBuffers(answer.part) : [] });
});

async function answerTo(task: KernelTask): Promise<KernelAnswer> {
  try {
    const kernel = await loadKernel();
    return task.type === 'prove'
      ? { type: 'proved', proof: proveSolid(kernel, task.mesh) }
      : { type: 'joined', part: kernelJoin(kernel, task.part, task.joints) };
  } catch (thrown) {
    const error = toErrorRecord(thrown);
    if (error.code === 'kernel-refused') return { type: 'refused', facts: error.facts };
    return { type: 'lost', how: error.code === 'not-loaded' ? 'not-loaded' : 'crashed' };
  }
}
