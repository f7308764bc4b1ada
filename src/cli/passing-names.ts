import { readdir, rm } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';

/** Names that files have only while they are written. They tell which process made them, so that what a killed one left can be cleared away. */

const HOST = hostname()
  .replace(/[^a-z0-9]/gi, '')
  .slice(0, 32);
const PASSING = /^\.pegwright-([a-z0-9]*)-(\d+)-\d+\.(new|old)$/i;

export const passingName = (n: number, what: 'new' | 'old'): string =>
  `.pegwright-${HOST}-${process.pid}-${n}.${what}`;

/** Removes from a folder what processes of this machine left that are no more. */
export async function clearPassing(folder: string): Promise<void> {
  for (const name of await readdir(folder)) {
    const [, host, pid] = PASSING.exec(name) ?? [];
    if (host === HOST && !isAlive(Number(pid))) await rm(join(folder, name), { force: true });
  }
}

function isAlive(pid: number): boolean {
  if (pid === process.pid) return true;
  try {
    process.kill(pid, 0);
    return true;
  } catch (thrown) {
    // One of another person's cannot be asked, but is there.
    return (thrown as NodeJS.ErrnoException).code === 'EPERM';
  }
}
