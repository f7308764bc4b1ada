import type { Finding } from '../check/finding.ts';
import { PegwrightError } from '../errors.ts';
import type { Kernel } from '../kernel/load.ts';
import { type Proof, proveSolid } from '../kernel/prove.ts';
import type { Part } from '../mesh/part/part.ts';
import type { PartResult } from './evaluation.ts';
import { judgeProof, solidToProve } from './proof.ts';

/** What the kernel makes of a finished part; null where it cannot hold the part or was lost on the way. */
export type PartProof = Proof | null;

/** Has one kernel build solids of finished parts, one after the other. */
export function proofsBy(
  kernel: Kernel,
  parts: readonly Part[],
  onProgress: (done: number) => void = () => {},
): PartProof[] {
  let isLost = false;
  return parts.map((part, i) => {
    onProgress(i / parts.length);
    const solid = isLost ? null : solidToProve(part);
    if (!solid) return null;
    try {
      return proveSolid(kernel, solid);
    } catch (thrown) {
      if (!(thrown instanceof PegwrightError && thrown.code === 'kernel-lost')) throw thrown;
      isLost = true;
      return null;
    }
  });
}

/**
 * Holds proofs against what was measured: per part true where the kernel agrees, false where it does not (with a
 * finding), null where there is no proof, or where shells overlap.
 */
export function judgeProofs(
  results: readonly PartResult[],
  proofs: readonly PartProof[],
): { proved: (boolean | null)[]; findings: Finding[] } {
  const findings: Finding[] = [];
  const proved = results.map((result, i) => {
    const proof = proofs[i];
    if (proof === null) return null;
    const found = judgeProof(result, proof);
    if (found) findings.push(found);
    // Two shells that overlap are as sound to it as two that do not.
    return found === null && result.overlaps ? null : found === null;
  });
  return { proved, findings };
}
