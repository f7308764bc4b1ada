import { PegwrightError } from '../errors.ts';

/** A mesh file's bytes on their way into a reader, with what the reader's errors need to say. */
export interface Feed {
  /** File name. */
  readonly file: string;
  /** How messages call the format, such as "binary STL". */
  readonly format: string;
  /** Bytes to come, or null where that is known only at the end (packed files). */
  readonly byteLength: number | null;
  /** The bytes from the start, in pieces small enough to report progress between them. */
  readonly pieces: AsyncIterable<Uint8Array>;
}

/** The error for bytes that end early: `found` of `promised` units were there. */
export const truncated = (feed: Feed, promised: number, found: number, unit: string) =>
  new PegwrightError('file-truncated', { file: feed.file, format: feed.format, promised, found, unit });

/** The error for content that contradicts itself or the format; `line` counts from 1. */
export const malformed = (feed: Feed, reason: string, line?: number) =>
  new PegwrightError('file-malformed', {
    file: feed.file,
    format: feed.format,
    reason,
    ...(line === undefined ? {} : { line }),
  });
