import { answerTo } from './kernel-answer.ts';
import { partBuffers } from './part-buffers.ts';
import type { KernelTask } from './protocol.ts';

/** A worker with an instance of the kernel of its own, so that what it does neither waits for edits nor holds them up. */

self.addEventListener('message', async ({ data }: MessageEvent<KernelTask>) => {
  const answer = await answerTo(data);
  self.postMessage(answer, { transfer: answer.type === 'joined' ? partBuffers(answer.part) : [] });
});
