import type { Part } from '../mesh/part/part.ts';
import { LIMITS } from '../model/limits.ts';
import { solidToProve } from '../pipeline/proof.ts';
import type { PartProof } from '../pipeline/prove-parts.ts';
import type { KernelWorker } from './kernel-worker.ts';

/**
 * Has kernels in threads of their own build solids of finished parts, the largest first, as many at once as there are
 * kernels and as one kernel could hold together. What a thread is lost over has no proof.
 */
export async function proveSideBySide(
  workers: readonly Pick<KernelWorker, 'ask'>[],
  parts: readonly Part[],
  onProgress: (done: number) => void = () => {},
  room: number = LIMITS.kernelTriangles,
): Promise<PartProof[]> {
  const proofs: PartProof[] = parts.map(() => null);
  const sizes = parts.map(triangleCount);
  const waiting = [...parts.keys()].sort((a, b) => sizes[b] - sizes[a]);
  const atOnce = Math.max(
    1,
    howManyFit(
      waiting.map((i) => sizes[i]),
      room,
    ),
  );
  let done = 0;
  const work = async (worker: Pick<KernelWorker, 'ask'>) => {
    for (let i = waiting.shift(); i !== undefined; i = waiting.shift()) {
      proofs[i] = await proofBy(worker, parts[i]);
      onProgress(++done / parts.length);
    }
  };
  await Promise.all(workers.slice(0, atOnce).map(work));
  return proofs;
}

const triangleCount = ({ patches }: Part): number =>
  patches.reduce((n, { triangles }) => n + triangles.length / 3, 0);

/** How many of these sizes, largest first, come to no more than `room`. */
function howManyFit(sizes: readonly number[], room: number): number {
  let held = 0;
  const over = sizes.findIndex((size) => {
    held += size;
    return held > room;
  });
  return over < 0 ? sizes.length : over;
}

async function proofBy(worker: Pick<KernelWorker, 'ask'>, part: Part): Promise<PartProof> {
  const solid = solidToProve(part);
  if (!solid) return null;
  const { positions, triangles } = solid;
  const answer = await worker.ask({ type: 'prove', mesh: { positions, triangles } });
  return answer.type === 'proved' ? answer.proof : null;
}
