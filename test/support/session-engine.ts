import type { EnginePort } from '../../app/state/ports.ts';
import { onlyHere } from '../../src/kernel/kernels.ts';
import type { Glimpse, Reply, Request } from '../../src/worker/protocol.ts';
import { createSession, type OnGlimpse } from '../../src/worker/session.ts';

type Unsent = Request extends infer R ? (R extends Request ? Omit<R, 'id'> : never) : never;

/** The engine as the page has it, in this thread. What needs a worker (proofs, stopping) it has not. */
export function sessionEngine(): EnginePort {
  const session = createSession(onlyHere);
  let id = 0;
  async function ask<T extends Reply['type']>(
    type: T,
    request: Unsent,
    onGlimpse?: OnGlimpse,
  ): Promise<Extract<Reply, { type: T }>> {
    const reply = await session.answer({ ...request, id: ++id } as Request, () => {}, onGlimpse);
    if (reply.type !== type) throw new Error(`answered ${reply.type}`);
    return reply as Extract<Reply, { type: T }>;
  }
  return {
    async open(files, as) {
      const seen: Glimpse[] = [];
      const { summary, mesh } = await ask('opened', { type: 'open', files, ...as }, (one) => seen.push(one));
      return { summary, mesh: mesh ?? seen[0].mesh };
    },
    health: async () => (await ask('examined', { type: 'health' })).health,
    tryMend: async (mend) => (await ask('tried', { type: 'try-mend', mend })).trial,
    estimate: async (cellMm) => (await ask('estimated', { type: 'estimate', cellMm })).estimate,
    rest: async () => (await ask('rested', { type: 'rest' })).down,
    touching: async () => (await ask('touched', { type: 'touching' })).pairs,
    narrowest: async (seamId, by, click) =>
      (await ask('fitted', { type: 'narrowest', seamId, by, click })).fit,
    squared: async (seamId, by) => (await ask('fitted', { type: 'square', seamId, by })).fit,
    reorder: async (job, seamId, step) =>
      (await ask('reordered', { type: 'reorder', job, seamId, step })).reordering,
    jointMends: async (job, seamId, jointId) =>
      (await ask('joint-mended', { type: 'joint-mends', job, seamId, jointId })).mends,
    suggestJoints: async (job, seamId, count) =>
      (await ask('suggested', { type: 'suggest-joints', job, seamId, count })).suggested,
    oneWayMends: async (job, seamId) =>
      (await ask('one-way-mended', { type: 'one-way-mends', job, seamId })).mends,
    symmetry: async (across) => (await ask('symmetry', { type: 'symmetry', across })).symmetry,
    mirror: async (job, seamId, across) =>
      (await ask('mirrored', { type: 'mirror', job, seamId, across })).image,
    evaluate: async (job, focus, _, isHeld) =>
      (await ask('evaluated', { type: 'evaluate', job, focus, held: [], isHeld })).view,
    outline: async (seamId, from, by, minWallMm) =>
      (await ask('outlined', { type: 'outline', seamId, from, by, minWallMm })).live,
    prove: async () => 'proved',
    async export(job, partId) {
      const { name, file } = await ask('exported', { type: 'export', job, partId });
      return { name, file, proving: 'proved' };
    },
    cancel: () => {},
    onCrash: () => {},
  };
}
