import { type FileEntry, Uint8ArrayReader, ZipReader } from '@zip.js/zip.js';
import type { FileFault } from '../../errors/file-fault.ts';
import { PegwrightError } from '../../errors.ts';
import { LIMITS } from '../../model/limits.ts';
import { checkUnpacked, type Feed, malformed, tooMany, unknownFeature } from '../bytes/feed.ts';
import { gather } from '../bytes/gather.ts';

/** The files in an archive, by path in lower case, without a leading slash. Nothing is unpacked before it is read. */
export interface Archive {
  has(path: string): boolean;
  /** The unpacked bytes of a file that the archive has. @throws PegwrightError `file-malformed` where two have its name. */
  pieces(path: string): AsyncIterable<Uint8Array>;
}

/**
 * Opens a ZIP archive: Stored or Deflate, ZIP64 or not. The sizes it declares are added up before anything is
 * unpacked, and what really comes out is held against them.
 * @throws PegwrightError `file-malformed`, `file-feature-unknown`, `file-too-many` or `file-unpacks-too-big`.
 */
export async function openArchive(feed: Feed): Promise<Archive> {
  // The list of files stands at an archive's end, so the packed bytes are all kept.
  const packed = await gather(feed.file, feed.pieces);
  const reader = new ZipReader(new Uint8ArrayReader(packed), {
    useWebWorkers: false,
    checkOverlappingEntry: true,
    // Nothing is unpacked to a disk, so a name that leads out of the archive harms nobody: no part is called so.
    filenameValidation: 'tolerant',
  });
  const entries = new Map<string, FileEntry>();
  /** Names that several files have: which of them is meant nobody can tell. */
  const shared = new Set<string>();
  let declared = 0;
  try {
    for await (const entry of reader.getEntriesGenerator()) {
      if (entry.directory) continue;
      if (entries.size >= LIMITS.archiveFiles) throw tooMany(feed, 'files');
      declared += entry.uncompressedSize;
      checkUnpacked(feed.file, declared);
      const name = key(entry.filename);
      if (entries.has(name)) shared.add(name);
      else entries.set(name, entry);
    }
  } catch (cause) {
    throw ours(feed, cause, { is: 'archive-cut' });
  }
  return {
    has: (path) => entries.has(key(path)),
    pieces(path) {
      if (shared.has(key(path)))
        throw malformed(feed, { is: 'archive-name-shared', path: path.slice(0, 80) });
      return unpacked(feed, entries.get(key(path)) as FileEntry);
    },
  };
}

/** Names in a package are told apart without regard to case (ECMA-376 Part 2, §9.1.1; from memory). */
const key = (path: string): string => path.replaceAll('\\', '/').replace(/^\/+/, '').toLowerCase();

async function* unpacked(feed: Feed, entry: FileEntry): AsyncGenerator<Uint8Array> {
  if (entry.encrypted) throw unknownFeature(feed, { is: 'password' });
  const { readable, writable } = new TransformStream<Uint8Array, Uint8Array>();
  const unpacking = entry.getData(writable, { useWebWorkers: false, checkSignature: true });
  // Some failures do not reach the stream, and a reader of it alone would wait for ever.
  const failure = unpacking.then(() => new Promise<never>(() => undefined));
  failure.catch(() => undefined);
  const reader = readable.getReader();
  let length = 0;
  try {
    for (;;) {
      const { done, value } = await Promise.race([reader.read(), failure]);
      if (done) break;
      length += value.length;
      if (length > entry.uncompressedSize) throw malformed(feed, { is: 'archive-understated' });
      yield value;
    }
    await unpacking;
  } catch (cause) {
    throw ours(feed, cause, { is: 'archive-damaged' });
  } finally {
    reader.cancel().catch(() => undefined);
  }
}

function ours(feed: Feed, cause: unknown, fault: FileFault): PegwrightError {
  if (cause instanceof PegwrightError) return cause;
  const isMethod = /compression method/i.test(String(cause));
  return isMethod ? unknownFeature(feed, { is: 'packing' }) : malformed(feed, fault);
}
