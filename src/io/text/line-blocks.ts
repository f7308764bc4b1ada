import { type Feed, malformed } from '../bytes/feed.ts';
import { IO_TUNING } from '../tuning.ts';

const LF = 10;
const CR = 13;
const BACKSLASH = 92;
const SPACE = 32;
const HASH = 35;

export interface LineBlock {
  bytes: Uint8Array;
  /** True for a last line that had no end of its own. */
  isOpen: boolean;
}

/** How much of a line that is too long to be held is handed on, and whether what follows to its end is passed over. */
export interface LongLine {
  keep: number;
  skip: boolean;
}

export interface LineRules {
  /** Whether a backslash at a line's end joins it with the next: the two then share a block. */
  continues?: boolean | undefined;
  /** Told the beginning of such a line; null where nothing can be made of it. */
  longLine?: ((start: Uint8Array) => LongLine | null) | undefined;
}

/**
 * The bytes of a text in blocks of whole lines, so that no token straddles two of them.
 * Every block ends with a line end, but for a line too long to be held; one is added to a last line that has none.
 * A byte order mark is left out.
 * @throws PegwrightError `file-malformed` for a line that is too long and cannot be parted.
 */
export async function* lineBlocks(
  feed: Feed,
  pieces: AsyncIterable<Uint8Array>,
  { continues = false, longLine = () => null }: LineRules = {},
): AsyncGenerator<LineBlock> {
  let rest = new Uint8Array(0);
  let first = true;
  let isSkipping = false;
  for await (const piece of pieces) {
    let block = rest.length === 0 ? piece : joined(rest, piece);
    if (isSkipping) {
      const end = firstLineEnd(block, continues);
      // The last two bytes tell whether a line end that comes next is one.
      rest = end < 0 ? block.slice(-2) : new Uint8Array(0);
      if (end < 0) continue;
      block = block.subarray(end);
      isSkipping = false;
    }
    const end = lastLineEnd(block, Math.max(0, rest.length - 1), continues);
    if (end > 0) yield { bytes: block.subarray(first ? markLength(block) : 0, end), isOpen: false };
    if (end > 0) first = false;
    // Copied, so that a short rest does not keep a long piece in memory.
    rest = block.slice(end);
    if (rest.length <= IO_TUNING.lineBytes) continue;
    const mark = first ? markLength(rest) : 0;
    const long = longLine(rest.subarray(mark));
    if (long === null) throw malformed(feed, { is: 'line-too-long', megabytes: IO_TUNING.lineBytes >> 20 });
    yield { bytes: rest.subarray(mark, mark + long.keep), isOpen: false };
    first = false;
    isSkipping = long.skip;
    rest = long.skip ? rest.slice(-2) : rest.slice(mark + long.keep);
  }
  if (rest.length === 0 || isSkipping) return;
  const bytes = joined(rest.subarray(first ? markLength(rest) : 0), Uint8Array.of(LF));
  yield { bytes, isOpen: rest.at(-1) !== CR };
}

/** Of a line that a comment makes too long, what stands before it: a "#" that begins a word begins one. */
export function beforeComment(start: Uint8Array): LongLine | null {
  const keep = start.findIndex((c, i) => c === HASH && (i === 0 || start[i - 1] <= SPACE));
  return keep < 0 ? null : { keep, skip: true };
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

/** The first line end, -1 if there is none. */
function firstLineEnd(block: Uint8Array, continues: boolean): number {
  for (let i = 0; i < block.length; i++) {
    const isEnd = block[i] === LF || block[i] === CR;
    if (isEnd && !(continues && isContinued(block, i))) return i;
  }
  return -1;
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
