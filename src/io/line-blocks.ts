import { type Feed, malformed } from './feed.ts';
import { IO_TUNING } from './tuning.ts';

const LF = 10;
const CR = 13;
const BACKSLASH = 92;

export interface LineBlock {
  bytes: Uint8Array;
  /** True for a last line that had no end of its own. */
  isOpen: boolean;
}

/**
 * The bytes of a text in blocks of whole lines, so that no token straddles two of them.
 * Every block ends with a line end; one is added to a last line that has none. A byte order mark is left out.
 * @param continues whether a backslash at a line's end joins it with the next: the two then share a block.
 * @throws PegwrightError `file-malformed` for a line without end, which no text has.
 */
export async function* lineBlocks(
  feed: Feed,
  pieces: AsyncIterable<Uint8Array>,
  continues = false,
): AsyncGenerator<LineBlock> {
  let rest = new Uint8Array(0);
  let first = true;
  for await (const piece of pieces) {
    const block = rest.length === 0 ? piece : joined(rest, piece);
    const end = lastLineEnd(block, Math.max(0, rest.length - 1), continues);
    if (end > 0) yield { bytes: block.subarray(first ? markLength(block) : 0, end), isOpen: false };
    if (end > 0) first = false;
    // Copied, so that a short rest does not keep a long piece in memory.
    rest = block.slice(end);
    if (rest.length > IO_TUNING.lineBytes) throw malformed(feed, 'it has no lines, as a text would');
  }
  if (rest.length === 0) return;
  const bytes = joined(rest.subarray(first ? markLength(rest) : 0), Uint8Array.of(LF));
  yield { bytes, isOpen: rest.at(-1) !== CR };
}

const markLength = (b: Uint8Array): number => (b[0] === 0xef && b[1] === 0xbb && b[2] === 0xbf ? 3 : 0);

/** Just behind the last line end at or after `from`, 0 if there is none. */
function lastLineEnd(block: Uint8Array, from: number, continues: boolean): number {
  for (let i = block.length - 1; i >= from; i--) {
    // A return at the very end may be half of a pair.
    const isEnd = block[i] === LF || (block[i] === CR && i < block.length - 1);
    if (isEnd && !(continues && isContinued(block, i))) return i + 1;
  }
  return 0;
}

/** True where a backslash stands before the line end (LF, CR or both) whose last byte is at `i`. */
const isContinued = (block: Uint8Array, i: number): boolean =>
  block[i - 1] === BACKSLASH || (block[i] === LF && block[i - 1] === CR && block[i - 2] === BACKSLASH);

function joined(a: Uint8Array, b: Uint8Array): Uint8Array<ArrayBuffer> {
  const both = new Uint8Array(a.length + b.length);
  both.set(a);
  both.set(b, a.length);
  return both;
}
