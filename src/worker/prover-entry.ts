import { toErrorRecord } from '../errors.ts';
import { loadKernel } from '../kernel/load.ts';
import { proveSolid } from '../kernel/prove.ts';
import type { ProofReply, ProofRequest } from './protocol.ts';

/** The prover's worker: an instance of the kernel of its own, so that a proof neither waits for edits nor holds them up. */

self.addEventListener('message', async ({ data: { id, mesh } }: MessageEvent<ProofRequest>) => {
  const reply = (rest: { proof: ProofReply['proof'] } | { error: ProofReply['error'] }) =>
    self.postMessage({ id, proof: null, error: null, ...rest } satisfies ProofReply);
  try {
    reply({ proof: proveSolid(await loadKernel(), mesh) });
  } catch (thrown) {
    reply({ error: toErrorRecord(thrown) });
  }
});
