import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { PegwrightError } from '../errors.ts';
import type { ByteSource } from '../io/source.ts';

const CHUNK_BYTES = 1 << 20;

/** A file on disk, read in chunks. @throws PegwrightError `file-unreadable` */
export async function fileSource(path: string): Promise<ByteSource> {
  const file = basename(path);
  const refuse = (thrown: unknown) =>
    new PegwrightError('file-unreadable', { file, reason: reasonOf(thrown) });
  const { size } = await stat(path).then(
    (stats) => {
      if (!stats.isFile()) throw new PegwrightError('file-unreadable', { file, reason: 'it is not a file' });
      return stats;
    },
    (thrown) => {
      throw refuse(thrown);
    },
  );
  return {
    name: file,
    byteLength: size,
    async *chunks() {
      try {
        yield* createReadStream(path, { highWaterMark: CHUNK_BYTES });
      } catch (thrown) {
        throw (thrown as NodeJS.ErrnoException).syscall ? refuse(thrown) : thrown;
      }
    },
  };
}

const REASONS: Record<string, string> = {
  ENOENT: 'there is no such file',
  EACCES: 'access is denied',
  EISDIR: 'it is a folder',
  EPERM: 'the system does not permit it',
  EROFS: 'it can only be read there',
  ENOSPC: 'the disk is full',
  EDQUOT: 'the disk quota is used up',
  EFBIG: 'a file may not be that big there',
  EEXIST: 'a file of that name is in the way',
  ENOTDIR: 'a file stands where a folder should',
  ENAMETOOLONG: 'the name is too long',
  EMFILE: 'too many files are open',
  EBUSY: 'it is in use',
  EIO: 'the disk failed',
  ELOOP: 'its links lead in a circle',
};

/** The system's own reason in words. */
export function reasonOf(thrown: unknown): string {
  const code = (thrown as NodeJS.ErrnoException).code ?? '';
  return REASONS[code] ?? (code || 'reading failed');
}
