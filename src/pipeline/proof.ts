import { type Finding, finding } from '../check/finding.ts';
import type { KernelDoubt } from '../errors.ts';
import type { Proof } from '../kernel/prove.ts';
import type { Mesh } from '../mesh/mesh.ts';
import { compactMesh, type Part, trianglesOf } from '../mesh/part/part.ts';
import { LIMITS } from '../model/limits.ts';
import type { PartResult } from './evaluation.ts';

/** Volumes that differ by no more than this share are one volume: the kernel sums in another order. */
const SAME_VOLUME = 1e-6;

/** A finished part as the kernel is to prove it, or null where it is more than the kernel can hold. */
export function solidToProve(part: Part): Mesh | null {
  const triangles = trianglesOf(part);
  return triangles.length / 3 > LIMITS.kernelTriangles
    ? null
    : compactMesh({ positions: part.positions, triangles }, part.added);
}

/** What is wrong with a part in the kernel's eyes, or null where it agrees with what was measured. */
export function judgeProof(part: PartResult, proof: Proof): Finding | null {
  const disagrees = (doubt: KernelDoubt) => finding('kernel-disagrees', 'error', { part: part.name, doubt });
  if ('refused' in proof) return disagrees(proof.refused);
  if (proof.triangles !== part.triangles) {
    return disagrees({ is: 'triangles-off', held: proof.triangles, of: part.triangles });
  }
  const off = Math.abs(proof.volumeMm3 - part.volumeMm3);
  return off > SAME_VOLUME * part.volumeMm3 ? disagrees({ is: 'volume-off', mm3: off }) : null;
}
