import type { Finding } from '../check/finding.ts';
import { PegwrightError } from '../errors.ts';
import type { Kernel } from '../kernel/load.ts';
import { proveSolid } from '../kernel/prove.ts';
import type { Part } from '../mesh/part/part.ts';
import type { PartResult } from './evaluation.ts';
import { judgeProof, solidToProve } from './proof.ts';

/**
 * Proves finished parts one after the other: per part true where the kernel agrees, false where it does not
 * (with a finding), null where it cannot hold the part or was lost on the way, or where shells overlap.
 */
export function proveParts(
  kernel: Kernel,
  parts: readonly { result: PartResult; part: Part }[],
  onProgress: (done: number) => void,
): { proved: (boolean | null)[]; findings: Finding[] } {
  const findings: Finding[] = [];
  let isLost = false;
  const proved = parts.map(({ result, part }, i) => {
    onProgress(i / parts.length);
    const solid = isLost ? null : solidToProve(part);
    if (!solid) return null;
    try {
      const found = judgeProof(result, proveSolid(kernel, solid));
      if (found) findings.push(found);
      // Two shells that overlap are as sound to it as two that do not.
      return found === null && result.overlaps ? null : found === null;
    } catch (thrown) {
      if (!(thrown instanceof PegwrightError && thrown.code === 'kernel-lost')) throw thrown;
      isLost = true;
      return null;
    }
  });
  return { proved, findings };
}
