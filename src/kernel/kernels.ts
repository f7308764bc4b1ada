import type { Part } from '../mesh/part/part.ts';
import type { Kernel } from './load.ts';
import { type KernelJoint, kernelJoin } from './solid.ts';

/** Where an evaluation has its booleans done. */
export interface Kernels {
  /** This thread's own instance, for whatever is small. */
  here: Kernel;
  /**
   * part ∪ pegs − sockets on a whole part: in this thread, or in another for each part.
   * Rejects with PegwrightError `kernel-refused` or `kernel-lost`.
   */
  joinWhole(part: Part, joints: readonly KernelJoint[]): Promise<Part>;
}

/** One instance for everything. */
export const onlyHere = (kernel: Kernel): Kernels => ({
  here: kernel,
  joinWhole: async (part, joints) => kernelJoin(kernel, part, joints),
});
