/** Pairs of bytes looked at, and the share of them that must look like a letter of ASCII, where there is no mark. */
const LOOKED_AT = 512;
const LETTERS = 0.8;

/**
 * Which UTF-16 a text is in, told by its byte order mark or by letters that alternate with zeros; null for anything
 * else, a binary header in such letters too, for what follows it is no text.
 */
export function utf16Of(head: Uint8Array): 'utf-16le' | 'utf-16be' | null {
  if (head[0] === 0xff && head[1] === 0xfe && isLetter(head[2], head[3])) return 'utf-16le';
  if (head[0] === 0xfe && head[1] === 0xff && isLetter(head[3], head[2])) return 'utf-16be';
  const pairs = Math.min(LOOKED_AT, head.length >> 1);
  let little = 0;
  let big = 0;
  for (let i = 0; i < pairs * 2; i += 2) {
    if (isLetter(head[i], head[i + 1])) little++;
    else if (isLetter(head[i + 1], head[i])) big++;
  }
  if (pairs < 2 || Math.max(little, big) < LETTERS * pairs) return null;
  return little > big ? 'utf-16le' : 'utf-16be';
}

const isLetter = (low: number, high: number): boolean => high === 0 && low > 0 && low < 128;

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
