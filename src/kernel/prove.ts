import { type KernelDoubt, PegwrightError } from '../errors.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { partOf } from '../mesh/part/part.ts';
import type { Kernel } from './load.ts';
import { scoped } from './scope.ts';
import { toKernel } from './solid.ts';

/** What the kernel makes of a finished part: its own count and volume, or why it does not take it. */
export type Proof = { triangles: number; volumeMm3: number } | { refused: KernelDoubt };

/**
 * Has the kernel build a solid of a finished part, which only a closed, coherently wound surface becomes.
 * The mesh has no vertices that no triangle uses.
 * @throws PegwrightError `kernel-lost` when the instance is finished.
 */
export function proveSolid(kernel: Kernel, mesh: Mesh): Proof {
  try {
    return scoped((own) => {
      const solid = toKernel(kernel, own, partOf(mesh), new Map(), 'proving');
      return { triangles: solid.numTri(), volumeMm3: solid.volume() };
    });
  } catch (thrown) {
    if (thrown instanceof PegwrightError && thrown.code === 'kernel-refused') {
      return { refused: (thrown as PegwrightError<'kernel-refused'>).facts.doubt };
    }
    throw thrown;
  }
}
