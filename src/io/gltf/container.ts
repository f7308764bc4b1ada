import { PegwrightError } from '../../errors.ts';
import { type Feed, malformed, truncated, unknownFeature } from '../bytes/feed.ts';
import { GLB_MAGIC } from './head.ts';

const HEADER_BYTES = 12;
const JSON_CHUNK = 0x4e4f534a;
const BINARY_CHUNK = 0x004e4942;

/** A glTF's JSON and the bytes that a GLB packs with it. */
export interface Container {
  text: string;
  embedded: Uint8Array | null;
}

/** Takes a glTF or GLB apart (Khronos glTF 2.0, §4.4). @throws PegwrightError for a GLB cut short or of another version. */
export function takeApart(feed: Feed, bytes: Uint8Array): Container {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  if (bytes.length < 4 || view.getUint32(0, true) !== GLB_MAGIC) {
    return { text: textOf(feed, bytes), embedded: null };
  }
  if (bytes.length < HEADER_BYTES) throw truncated(feed, HEADER_BYTES, bytes.length, 'bytes');
  const version = view.getUint32(4, true);
  if (version !== 2) throw unknownFeature(feed, { is: 'version', version: String(version) });
  const length = view.getUint32(8, true);
  if (length > bytes.length) throw truncated(feed, length, bytes.length, 'bytes');
  const chunks = new Map<number, Uint8Array>();
  for (let at = HEADER_BYTES; at + 8 <= length; ) {
    const size = view.getUint32(at, true);
    const type = view.getUint32(at + 4, true);
    at += 8;
    if (at + size > length) throw truncated(feed, at + size, length, 'bytes');
    if (!chunks.has(type)) chunks.set(type, bytes.subarray(at, at + size));
    at += size;
  }
  const json = chunks.get(JSON_CHUNK);
  if (json === undefined) throw malformed(feed, { is: 'description-missing' });
  return { text: textOf(feed, json), embedded: chunks.get(BINARY_CHUNK) ?? null };
}

/** Strings have a longest length, below what a file may have. */
function textOf(feed: Feed, bytes: Uint8Array): string {
  try {
    return new TextDecoder().decode(bytes);
  } catch {
    throw new PegwrightError('out-of-memory', { file: feed.file });
  }
}
