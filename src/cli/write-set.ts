import { lstatSync, rmSync } from 'node:fs';
import { mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises';
import { basename, join } from 'node:path';
import { PegwrightError } from '../errors.ts';
import type { ArchiveEntry } from '../handoff/archive.ts';
import { reasonOf } from './file-source.ts';

/** A name no part has, with the process that writes it: what a killed run left behind is known by it. */
const BESIDE = /^\.pegwright-(\d+)-\d+\.part$/;

/**
 * Writes files into a folder, all of them or none, in order. Each is written beside its final name and takes it by
 * renaming once all are whole. The last file vouches for the set: its earlier copy goes before the first renaming, so
 * that a run killed between two leaves no set that looks whole.
 * @throws PegwrightError `usage` where a file would be one of `inputs`, `file-unwritable`
 */
export async function writeSet(
  folder: string,
  files: readonly ArchiveEntry[],
  inputs: readonly string[],
): Promise<void> {
  const beside: string[] = [];
  const clean = () => {
    for (const path of beside) rmSync(path, { force: true });
  };
  const stopped = (signal: NodeJS.Signals) => {
    clean();
    process.exit(signal === 'SIGINT' ? 130 : 143);
  };
  process.once('SIGINT', stopped).once('SIGTERM', stopped);
  try {
    await mkdir(folder, { recursive: true });
    const finals = files.map(({ name }) => join(folder, name));
    await refuseInputs(finals, inputs);
    await dropStale(folder);
    for (const [i, { chunks }] of files.entries()) {
      const path = join(folder, `.pegwright-${process.pid}-${i}.part`);
      beside.push(path);
      await writeWhole(path, chunks);
    }
    await rm(finals[finals.length - 1], { force: true });
    for (const [i, path] of finals.entries()) await rename(beside[i], path);
  } catch (thrown) {
    clean();
    if (thrown instanceof PegwrightError) throw thrown;
    throw new PegwrightError('file-unwritable', { file: basename(folder), reason: reasonOf(thrown) });
  } finally {
    process.off('SIGINT', stopped).off('SIGTERM', stopped);
  }
}

async function writeWhole(path: string, chunks: Iterable<Uint8Array>): Promise<void> {
  const handle = await open(path, 'wx');
  try {
    for (const chunk of chunks) await handle.writeFile(chunk);
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/** Compared by device and inode, which links and the case of letters do not change. */
async function refuseInputs(finals: readonly string[], inputs: readonly string[]): Promise<void> {
  const kept = await Promise.all(inputs.map((path) => stat(path)));
  for (const path of finals) {
    const there = await stat(path).catch(() => null);
    if (there === null) continue;
    if (lstatSync(path).isDirectory())
      throw new PegwrightError('file-unwritable', { file: basename(path), reason: 'it is a folder' });
    if (kept.some(({ dev, ino }) => dev === there.dev && ino === there.ino)) {
      const reason = `${basename(path)}: this file is read for the job and would be written over; name another folder with --out.`;
      throw new PegwrightError('usage', { reason });
    }
  }
}

/** Takes away what runs that are no more left half written. */
async function dropStale(folder: string): Promise<void> {
  for (const name of await readdir(folder)) {
    const pid = Number(BESIDE.exec(name)?.[1]);
    if (pid > 0 && !isRunning(pid)) await rm(join(folder, name), { force: true });
  }
}

function isRunning(pid: number): boolean {
  try {
    return pid === process.pid ? false : process.kill(pid, 0);
  } catch (thrown) {
    return (thrown as NodeJS.ErrnoException).code !== 'ESRCH';
  }
}
