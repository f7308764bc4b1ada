import { PegwrightError } from '../../errors.ts';
import { fromUtf16, utf16Of } from '../text/utf16.ts';
import { IO_TUNING } from '../tuning.ts';
import { checkUnpacked } from './feed.ts';
import type { ByteSource } from './source.ts';

/**
 * A source's bytes in pieces of limited size, unpacked where the source is gzip'd, in UTF-8 where it is UTF-16 text.
 * `head` has the first ones; `pieces` still starts from the first.
 */
export interface PieceReader {
  /** Bytes to come, or null where packing or another encoding hides it. */
  byteLength: number | null;
  head: Uint8Array;
  pieces: AsyncIterable<Uint8Array>;
  /** Lets go of the source, read to its end or not. */
  close(): Promise<void>;
}

/**
 * Opens a source for reading once.
 * @param onBytes told how many of the source's own bytes have been taken.
 * @throws PegwrightError `file-unreadable` when the source fails.
 */
export async function openPieces(source: ByteSource, onBytes: (taken: number) => void): Promise<PieceReader> {
  const bytes = readable(source, onBytes);
  const close = async () => void (await bytes.return(undefined));
  const stored = await peek(bytes, 2);
  const isPacked = stored.head[0] === 0x1f && stored.head[1] === 0x8b;
  const plain = await peek(
    isPacked ? unpacked(source.name, stored.pieces) : stored.pieces,
    IO_TUNING.headBytes,
  );
  const encoding = utf16Of(plain.head);
  if (encoding !== null) {
    return {
      byteLength: null,
      close,
      ...(await peek(fromUtf16(encoding, plain.pieces), IO_TUNING.headBytes)),
    };
  }
  return { byteLength: isPacked ? null : source.byteLength, close, ...plain };
}

/** Cuts chunks to pieces and puts the source's failures in our own words. */
async function* readable(source: ByteSource, onBytes: (taken: number) => void): AsyncGenerator<Uint8Array> {
  let taken = 0;
  try {
    for await (const chunk of source.chunks()) {
      for (let at = 0; at < chunk.length; at += IO_TUNING.pieceBytes) {
        const piece = chunk.subarray(at, at + IO_TUNING.pieceBytes);
        taken += piece.length;
        onBytes(taken);
        yield piece;
      }
    }
  } catch (cause) {
    throw unreadable(source.name, cause);
  }
}

function unreadable(file: string, cause: unknown): PegwrightError {
  if (cause instanceof PegwrightError) return cause;
  const words = cause instanceof Error ? cause.message : String(cause);
  return new PegwrightError('file-unreadable', { file, trouble: { is: 'said', words } });
}

/** Inflates gzip. Bounded, so that a small file cannot unpack without end. */
async function* unpacked(file: string, packed: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
  const stream = streamOf(packed).pipeThrough(new DecompressionStream('gzip'));
  const reader = stream.getReader();
  let length = 0;
  try {
    for (;;) {
      const { done, value } = await reader.read();
      if (done) return;
      length += value.length;
      checkUnpacked(file, length);
      yield value;
    }
  } catch (cause) {
    throw unreadable(file, cause);
  } finally {
    await reader.cancel().catch(() => undefined);
  }
}

function streamOf(pieces: AsyncIterable<Uint8Array>): ReadableStream<Uint8Array<ArrayBuffer>> {
  const iterator = pieces[Symbol.asyncIterator]();
  return new ReadableStream({
    async pull(controller) {
      const { done, value } = await iterator.next();
      if (done) controller.close();
      // The stream's type asks for plain memory; shared memory never comes from a file.
      else controller.enqueue(value as Uint8Array<ArrayBuffer>);
    },
    async cancel() {
      await iterator.return?.();
    },
  });
}

/** Takes at least `count` bytes, if there are as many, and hands them on again. */
async function peek(
  pieces: AsyncIterable<Uint8Array>,
  count: number,
): Promise<{ head: Uint8Array; pieces: AsyncIterable<Uint8Array> }> {
  const iterator = pieces[Symbol.asyncIterator]();
  const taken: Uint8Array[] = [];
  let length = 0;
  while (length < count) {
    const { done, value } = await iterator.next();
    if (done) break;
    taken.push(value);
    length += value.length;
  }
  async function* again() {
    yield* taken;
    yield* { [Symbol.asyncIterator]: () => iterator };
  }
  return { head: joined(taken), pieces: again() };
}

function joined(parts: Uint8Array[]): Uint8Array {
  if (parts.length === 1) return parts[0];
  const bytes = new Uint8Array(parts.reduce((n, part) => n + part.length, 0));
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}
