import type { FileFault, FileFeature, FileUnit, FormatName } from '../../errors/file-fault.ts';
import { type ErrorFacts, PegwrightError } from '../../errors.ts';
import { LIMITS } from '../../model/limits.ts';
import type { ByteSource } from './source.ts';

/** A mesh file's bytes on their way into a reader, with what the reader's errors need to say. */
export interface Feed {
  /** File name. */
  readonly file: string;
  readonly format: FormatName;
  /** Bytes to come, or null where that is known only at the end (packed files). */
  readonly byteLength: number | null;
  /** The bytes from the start, in pieces small enough to report progress between them. */
  readonly pieces: AsyncIterable<Uint8Array>;
  /** Files handed over together with this one, for formats that are spread over several. */
  readonly beside: readonly ByteSource[];
}

/** The error for bytes that end early: `found` of `promised` units were there, of a named element if one is named. */
export const truncated = (feed: Feed, promised: number, found: number, unit: FileUnit, of?: string) =>
  new PegwrightError('file-truncated', {
    file: feed.file,
    format: feed.format,
    promised,
    found,
    unit,
    ...(of === undefined ? {} : { of }),
  });

/** The error for content that contradicts itself or the format; `line` counts from 1. */
export const malformed = (feed: Feed, fault: FileFault, line?: number) =>
  new PegwrightError('file-malformed', {
    file: feed.file,
    format: feed.format,
    fault,
    ...(line === undefined ? {} : { line }),
  });

/** The error for sound content that asks for something not read here. */
export const unknownFeature = (feed: Feed, feature: FileFeature) =>
  new PegwrightError('file-feature-unknown', { file: feed.file, format: feed.format, feature });

const MOST = { bodies: LIMITS.bodies, files: LIMITS.archiveFiles, levels: LIMITS.nesting } as const;

/** The error for more of something than `LIMITS` allow. */
export const tooMany = (feed: Feed, what: ErrorFacts['file-too-many']['what']) =>
  new PegwrightError('file-too-many', { file: feed.file, what, limit: MOST[what] });

/** Refuses more unpacked bytes than `LIMITS` allow. */
export function checkUnpacked(file: string, bytes: number): void {
  const limit = LIMITS.unpackedBytes;
  if (bytes > limit) throw new PegwrightError('file-unpacks-too-big', { file, bytes, limit });
}
