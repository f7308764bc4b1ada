/** Which UTF-16 the first bytes are, told by a byte order mark or by a first character as all texts here have; null for none. */
export function utf16Of(head: Uint8Array): 'utf-16le' | 'utf-16be' | null {
  const [a, b, c, d] = head;
  const isAscii = (low: number, high: number) => high === 0 && low > 0 && low < 128;
  if (a === 0xff && b === 0xfe && isAscii(c, d)) return 'utf-16le';
  if (a === 0xfe && b === 0xff && isAscii(d, c)) return 'utf-16be';
  if (isAscii(a, b) && isAscii(c, d)) return 'utf-16le';
  return isAscii(b, a) && isAscii(d, c) ? 'utf-16be' : null;
}

/** UTF-16 text as UTF-8, without its byte order mark. */
export async function* fromUtf16(
  encoding: 'utf-16le' | 'utf-16be',
  pieces: AsyncIterable<Uint8Array>,
): AsyncGenerator<Uint8Array> {
  const decoder = new TextDecoder(encoding);
  const encoder = new TextEncoder();
  for await (const piece of pieces) yield encoder.encode(decoder.decode(piece, { stream: true }));
  yield encoder.encode(decoder.decode());
}
