/**
 * The start of a text file as a string, one character a byte, without byte order mark and leading blanks;
 * null for bytes that are no text.
 */
export function textHead(head: Uint8Array): string | null {
  if (head.includes(0)) return null;
  return new TextDecoder('latin1')
    .decode(head)
    .replace(/^\u00ef\u00bb\u00bf/, '')
    .trimStart();
}
