import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { basename } from 'node:path';
import { PegwrightError } from '../errors.ts';
import type { ByteSource } from '../io/bytes/source.ts';
import { systemTrouble } from './system-trouble.ts';

const CHUNK_BYTES = 1 << 20;

/** A file on disk, read in chunks. @throws PegwrightError `file-unreadable` */
export async function fileSource(path: string): Promise<ByteSource> {
  const file = basename(path);
  const refuse = (thrown: unknown) =>
    new PegwrightError('file-unreadable', { file, trouble: systemTrouble(thrown, 'reading') });
  const { size } = await stat(path).then(
    (stats) => {
      if (stats.isDirectory()) throw refuse(Object.assign(new Error(), { code: 'EISDIR' }));
      if (!stats.isFile()) throw new PegwrightError('file-unreadable', { file, trouble: { is: 'no-file' } });
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
