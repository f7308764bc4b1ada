import { parentPort } from 'node:worker_threads';
import { loadKernel } from '../../kernel/load.ts';
import { runIn } from '../../kernel/run-in.ts';
import { answerTo } from '../kernel-answer.ts';
import type { KernelTask } from '../protocol.ts';

/** A thread of the command line with an instance of the kernel of its own, which is run in until the first task comes. */

parentPort?.on('message', async (task: KernelTask) => parentPort?.postMessage(await answerTo(task)));
// What keeps it from loading is told by the first task.
loadKernel().then(runIn, () => {});
