import { toErrorRecord } from '../errors.ts';
import type { DisplayMesh } from '../mesh/display.ts';
import type { OnProgress } from '../progress.ts';
import type { Reply, Request } from './protocol.ts';
import { createSession } from './session.ts';

/** The worker's side of the engine: requests are answered one after the other, in the order they came. */

const session = createSession();
let queue: Promise<void> = Promise.resolve();

self.addEventListener('message', ({ data }: MessageEvent<Request>) => {
  queue = queue.then(() => serve(data));
});

/** Progress is for eyes: within a step no oftener than this, ms. */
const PROGRESS_MS = 80;

function progressOf(id: number): OnProgress {
  let last = { step: '', at: 0 };
  return (step, done) => {
    const at = performance.now();
    if (step === last.step && at - last.at < PROGRESS_MS) return;
    last = { step, at };
    send({ type: 'progress', id, step, done });
  };
}

async function serve(request: Request): Promise<void> {
  try {
    const reply = await session.answer(request, progressOf(request.id));
    send(reply);
  } catch (thrown) {
    send({ type: 'failed', id: request.id, error: toErrorRecord(thrown) });
  }
}

const send = (reply: Reply): void => self.postMessage(reply, { transfer: buffersOf(reply) });

/** Meshes move to the page without a copy. */
function buffersOf(reply: Reply): Transferable[] {
  const meshes: DisplayMesh[] =
    reply.type === 'opened'
      ? [reply.mesh]
      : reply.type === 'evaluated'
        ? reply.view.parts.flatMap(({ skin, lid }) => (skin ? [skin, lid] : [lid]))
        : [];
  return meshes.flatMap(
    (mesh) => [mesh.positions.buffer, mesh.normals.buffer, mesh.triangles.buffer] as ArrayBuffer[],
  );
}
