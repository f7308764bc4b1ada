import { toErrorRecord } from '../errors.ts';
import { loadKernel } from '../kernel/load.ts';
import { proveSolid } from '../kernel/prove.ts';
import { kernelJoin } from '../kernel/solid.ts';
import type { KernelAnswer, KernelTask } from './protocol.ts';

/** What this thread's kernel makes of a task; never rejects. */
export async function answerTo(task: KernelTask): Promise<KernelAnswer> {
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
