import type { ForeignKind } from '../errors/file-fault.ts';

/** First bytes of files that people open by mistake, and what they are. */
const SIGNATURES: readonly (readonly [kind: ForeignKind, at: number, bytes: string])[] = [
  ['png', 0, '\x89PNG'],
  ['jpeg', 0, '\xff\xd8\xff'],
  ['gif', 0, 'GIF8'],
  ['webp', 8, 'WEBP'],
  ['tiff', 0, 'II*\0'],
  ['tiff', 0, 'MM\0*'],
  ['bitmap', 0, 'BM'],
  ['pdf', 0, '%PDF'],
  ['zip', 0, 'PK\x03\x04'],
  ['zip', 0, 'PK\x05\x06'],
  ['7z', 0, "7z\xbc\xaf'\x1c"],
  ['rar', 0, 'Rar!'],
  ['xz', 0, '\xfd7zXZ'],
  ['bzip2', 0, 'BZh'],
  ['gzip', 0, '\x1f\x8b'],
  ['film', 4, 'ftyp'],
  ['program', 0, '\x7fELF'],
  ['program', 0, 'MZ'],
  ['web-page', 0, '<!DOCTYPE html'],
  ['web-page', 0, '<html'],
  ['xml', 0, '<?xml'],
];

/** What a file that is no mesh seems to be, judged by its first bytes; undefined where nothing is known. */
export function looksLike(head: Uint8Array): ForeignKind | undefined {
  return SIGNATURES.find(([, at, bytes]) =>
    Array.from(bytes, (c) => c.charCodeAt(0)).every((code, i) => head[at + i] === code),
  )?.[0];
}
