import { rmSync } from 'node:fs';
import { type FileHandle, link, mkdir, open, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { PegwrightError } from '../errors.ts';
import type { ArchiveEntry } from '../handoff/archive.ts';
import { clearPassing, passingName } from './passing-names.ts';
import { systemTrouble } from './system-trouble.ts';

/**
 * Files of one folder, whole or not at all. Each is written beside its final name and flushed; once all are there they
 * take their names, the last one last. Whatever ends the process, a file under its final name is a whole one; and of
 * the last, which reports of the others, there is none while they may be of two sets.
 */
export interface FileSet {
  /** Writes one file under a passing name. @throws PegwrightError `file-unwritable` */
  add(entry: ArchiveEntry): Promise<void>;
  /** Gives all their names. @throws PegwrightError `file-unwritable`, with everything as it was before. */
  commit(): Promise<void>;
}

/**
 * @param names of all files that will be added.
 * @param inputs paths of files that must not be written over.
 * @throws PegwrightError `file-unwritable` or `file-over-input`; nothing is written then.
 */
export async function openFileSet(
  folder: string,
  names: readonly string[],
  inputs: readonly string[],
): Promise<FileSet> {
  await refusing(basename(resolve(folder)), async () => {
    await makeFolder(resolve(folder));
    await clearPassing(folder);
  });
  for (const name of names) await requireFree(folder, name, inputs);
  const added: Added[] = [];
  const discard = () => Promise.all(added.map(({ passing }) => rm(passing, { force: true })));
  const release = dropOnSignals(added);
  return {
    async add({ name, chunks }) {
      const passing = join(folder, passingName(added.length, 'new'));
      added.push({ passing, final: join(folder, name) });
      await refusing(name, async () => writeWhole(await open(passing, 'wx'), chunks), discard);
    },
    async commit() {
      await refusing(basename(resolve(folder)), () => renameAll(folder, added), discard);
      release();
    },
  };
}

interface Added {
  passing: string;
  final: string;
}

/** Does work on a file; what the system refuses is told about that name, after taking back what there is to. */
async function refusing(file: string, work: () => Promise<void>, takeBack?: () => Promise<unknown>) {
  try {
    await work();
  } catch (thrown) {
    await takeBack?.();
    if (thrown instanceof PegwrightError) throw thrown;
    throw new PegwrightError('file-unwritable', { file, trouble: systemTrouble(thrown, 'writing') });
  }
}

/** Makes a folder and those above it one by one: where none can be made the system says so, and a search for one that can does not go on for ever. */
async function makeFolder(path: string): Promise<void> {
  const missing: string[] = [];
  for (let at = path; !(await isFolder(at)); at = dirname(at)) missing.unshift(at);
  for (const one of missing) {
    await mkdir(one).catch((thrown: NodeJS.ErrnoException) => {
      // Another run may make the same folder at the same time.
      if (thrown.code !== 'EEXIST') throw thrown;
    });
  }
}

/** @throws the system's error for anything else than a folder or nothing. */
async function isFolder(path: string): Promise<boolean> {
  const stats = await statOf(path);
  if (stats === null && dirname(path) !== path) return false;
  if (stats?.isDirectory()) return true;
  throw Object.assign(new Error(), { code: 'ENOTDIR' });
}

const statOf = (path: string) =>
  stat(path).catch((thrown: NodeJS.ErrnoException) => {
    if (thrown.code === 'ENOENT') return null;
    throw thrown;
  });

/** Whichever way two names lead to one file (links, letters of either case), they are that file. */
async function requireFree(folder: string, name: string, inputs: readonly string[]): Promise<void> {
  const path = join(folder, name);
  await refusing(name, async () => {
    const there = await statOf(path);
    if (there === null) return;
    if (there.isDirectory()) throw Object.assign(new Error(), { code: 'EISDIR' });
    for (const input of inputs) {
      const read = await statOf(input);
      if (read?.dev === there.dev && read.ino === there.ino)
        throw new PegwrightError('file-over-input', { file: name, input: basename(input) });
    }
  });
}

async function writeWhole(handle: FileHandle, chunks: Iterable<Uint8Array>): Promise<void> {
  try {
    for (const chunk of chunks) {
      for (let at = 0; at < chunk.length; ) at += (await handle.write(chunk, at)).bytesWritten;
    }
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/** The earlier report goes first, and the new one comes last. A name that cannot be taken gives all of them back. */
async function renameAll(folder: string, added: readonly Added[]): Promise<void> {
  const kept: { old: string; final: string }[] = [];
  const taken: string[] = [];
  try {
    for (const [i, { final }] of added.entries()) {
      const old = join(folder, passingName(i, 'old'));
      if (await keepOld(final, old)) kept.push({ old, final });
    }
    await rm(added[added.length - 1].final, { force: true });
    for (const { passing, final } of added) {
      await rename(passing, final);
      taken.push(final);
    }
  } catch (thrown) {
    await Promise.all(taken.map((final) => rm(final, { force: true })));
    for (const { old, final } of kept) await rename(old, final);
    throw thrown;
  } finally {
    // Two names of one file stay both when one is given the other's.
    await Promise.all(kept.map(({ old }) => rm(old, { force: true })));
  }
}

/** A second name for an earlier file, so that it can come back; false where there is none. */
async function keepOld(final: string, old: string): Promise<boolean> {
  try {
    await link(final, old);
    return true;
  } catch (thrown) {
    const { code } = thrown as NodeJS.ErrnoException;
    // Some disks know no second names; there the earlier file only cannot come back from a failed change of names.
    if (code === 'ENOENT' || code === 'EPERM' || code === 'ENOTSUP' || code === 'ENOSYS') return false;
    throw thrown;
  }
}

const SIGNALS = { SIGINT: 2, SIGTERM: 15, SIGHUP: 1 } as const;

/** Takes passing files away when the process is asked to end; answers how to stop that. */
function dropOnSignals(added: readonly Added[]): () => void {
  const drops = Object.entries(SIGNALS).map(([signal, number]) => {
    const drop = () => {
      for (const { passing } of added) rmSync(passing, { force: true });
      process.exit(128 + number);
    };
    process.once(signal, drop);
    return () => process.off(signal, drop);
  });
  return () => {
    for (const undo of drops) undo();
  };
}
