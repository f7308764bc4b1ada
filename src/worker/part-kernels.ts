import { PegwrightError } from '../errors.ts';
import type { Kernels } from '../kernel/kernels.ts';
import type { Kernel } from '../kernel/load.ts';
import { compactPart, type Part } from '../mesh/part/part.ts';
import { createKernelWorker, type KernelWorker } from './kernel-worker.ts';
import type { KernelAnswer } from './protocol.ts';

/**
 * Joins whole parts at the same time, each in a worker of its own that ends with it: what a kernel has once taken of
 * memory it never gives back. All of them together hold no more than one kernel would of the whole figure.
 */
export const eachInItsOwn = (
  here: Kernel,
  spawn: () => Pick<KernelWorker, 'ask' | 'stop'> = createKernelWorker,
): Kernels => ({
  here,
  async joinWhole(part, joints) {
    const worker = spawn();
    try {
      const { part: own } = compactPart(part, part.patches);
      return joinedPart(await worker.ask({ type: 'join', part: own, joints }));
    } finally {
      worker.stop();
    }
  },
});

function joinedPart(answer: KernelAnswer): Part {
  switch (answer.type) {
    case 'joined':
      return answer.part;
    case 'refused':
      throw new PegwrightError('kernel-refused', answer.facts);
    case 'lost': {
      if (answer.how === 'not-loaded') throw new PegwrightError('not-loaded', { what: 'kernel' });
      throw new PegwrightError('kernel-refused', { step: 'jointing', doubt: { is: answer.how } });
    }
    case 'proved':
      throw new Error('a proof where a joint was asked for');
  }
}
