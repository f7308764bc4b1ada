import { vi } from 'vitest';

/** How many bytes are read off streams, packed and unpacked ones, while `work` runs. */
export async function streamedBytes(work: () => Promise<unknown>): Promise<number> {
  let count = 0;
  const plain = ReadableStreamDefaultReader.prototype.read;
  const read = vi.spyOn(ReadableStreamDefaultReader.prototype, 'read');
  read.mockImplementation(async function (this: ReadableStreamDefaultReader) {
    const got = await plain.call(this);
    if (got.value instanceof Uint8Array) count += got.value.length;
    return got;
  });
  try {
    await work();
  } finally {
    read.mockRestore();
  }
  return count;
}
