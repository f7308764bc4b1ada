import type { Finding } from '../../src/check/finding.ts';
import type { Kernel } from '../../src/kernel/load.ts';
import type { Part } from '../../src/mesh/part/part.ts';
import type { PartResult } from '../../src/pipeline/evaluation.ts';
import { judgeProofs, proofsBy } from '../../src/pipeline/prove-parts.ts';

/** Finished parts proved by one kernel, and judged. */
export function proveParts(
  kernel: Kernel,
  parts: readonly { part: Part; result: PartResult }[],
  onProgress?: (done: number) => void,
): { proved: (boolean | null)[]; findings: Finding[] } {
  const proofs = proofsBy(
    kernel,
    parts.map(({ part }) => part),
    onProgress,
  );
  return judgeProofs(
    parts.map(({ result }) => result),
    proofs,
  );
}
