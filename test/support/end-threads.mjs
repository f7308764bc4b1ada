import { isMainThread } from 'node:worker_threads';

/** Loaded before a program (`--import`), and so before each of its threads: those end at once. Plain JavaScript, as a thread loads no TypeScript. */

if (!isMainThread) process.exit(1);
