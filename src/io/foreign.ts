/** First bytes of files that people open by mistake, and what messages call them. */
const SIGNATURES: readonly (readonly [name: string, at: number, bytes: string])[] = [
  ['a PNG picture', 0, '\x89PNG'],
  ['a JPEG picture', 0, '\xff\xd8\xff'],
  ['a GIF picture', 0, 'GIF8'],
  ['a WebP picture', 8, 'WEBP'],
  ['a TIFF picture', 0, 'II*\0'],
  ['a TIFF picture', 0, 'MM\0*'],
  ['a bitmap picture', 0, 'BM'],
  ['a PDF document', 0, '%PDF'],
  ['a ZIP archive', 0, 'PK\x03\x04'],
  ['a ZIP archive', 0, 'PK\x05\x06'],
  ['a 7z archive', 0, "7z\xbc\xaf'\x1c"],
  ['a RAR archive', 0, 'Rar!'],
  ['an XZ archive', 0, '\xfd7zXZ'],
  ['a bzip2 archive', 0, 'BZh'],
  ['a gzip archive', 0, '\x1f\x8b'],
  ['a film', 4, 'ftyp'],
  ['a program', 0, '\x7fELF'],
  ['a program', 0, 'MZ'],
  ['a web page', 0, '<!DOCTYPE html'],
  ['a web page', 0, '<html'],
  ['an XML document', 0, '<?xml'],
];

/** What a file that is no mesh seems to be, judged by its first bytes; undefined where nothing is known. */
export function looksLike(head: Uint8Array): string | undefined {
  return SIGNATURES.find(([, at, bytes]) =>
    Array.from(bytes, (c) => c.charCodeAt(0)).every((code, i) => head[at + i] === code),
  )?.[0];
}
