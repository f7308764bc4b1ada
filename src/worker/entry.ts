import { toErrorRecord } from '../errors.ts';
import type { DisplayMesh } from '../mesh/display.ts';
import type { Mesh } from '../mesh/mesh.ts';
import type { OnProgress } from '../progress.ts';
import { eachInItsOwn } from './part-kernels.ts';
import type { Reply, Request } from './protocol.ts';
import { createSession } from './session.ts';

/** The worker's side of the engine: requests are answered one after the other, in the order they came. */

const session = createSession(eachInItsOwn);
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
    const reply = await session.answer(request, progressOf(request.id), (glimpse) =>
      send({ type: 'glimpse', id: request.id, glimpse }),
    );
    send(reply);
  } catch (thrown) {
    send({ type: 'failed', id: request.id, error: toErrorRecord(thrown) });
  }
}

const send = (reply: Reply): void => self.postMessage(reply, { transfer: buffersOf(reply) });

/** Meshes move to the page without a copy. */
const buffersOf = (reply: Reply): Transferable[] =>
  meshesIn(reply).flatMap(
    ({ positions, normals, triangles }) =>
      [positions.buffer, triangles.buffer, ...(normals ? [normals.buffer] : [])] as ArrayBuffer[],
  );

function meshesIn(reply: Reply): (Mesh & Partial<DisplayMesh>)[] {
  switch (reply.type) {
    case 'glimpse':
      return [reply.glimpse.mesh];
    case 'opened':
      return reply.mesh ? [reply.mesh] : [];
    case 'evaluated':
      return reply.view.parts.flatMap(({ skins, lid }) => [...skins, lid].flatMap(({ mesh }) => mesh ?? []));
    case 'solids':
      return reply.solids.flatMap(({ mesh }) => mesh ?? []);
    default:
      return [];
  }
}
