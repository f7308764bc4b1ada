import type { FileFault } from '../../errors/file-fault.ts';
import { type Feed, malformed } from '../bytes/feed.ts';
import { readDecimal } from './decimal.ts';

const LF = 10;
const CR = 13;
const SPACE = 32;
const PLUS = 43;
const MINUS = 45;
const ZERO = 48;
const HASH = 35;
const BACKSLASH = 92;
const LOWER = 32;

/** Longest bit of a file that messages quote. */
const QUOTED = 24;
/** Longest word made into a string; no keyword or number is longer. */
const LONGEST_WORD = 1000;

/**
 * Reads words and numbers straight from the bytes of whole lines. `line` counts from 1.
 * Whatever is missing or wrong is a `file-malformed` with the line.
 */
export class TextScanner {
  line = 1;
  #bytes = new Uint8Array(0);
  #at = 0;
  readonly #feed: Feed;
  readonly #continues: boolean;

  /** @param continues whether a backslash at a line's end joins it with the next. */
  constructor(feed: Feed, { continues = false } = {}) {
    this.#feed = feed;
    this.#continues = continues;
  }

  /** Goes on with the next block, which starts a line and ends with a line end. */
  load(block: Uint8Array): void {
    this.#bytes = block as Uint8Array<ArrayBuffer>;
    this.#at = 0;
  }

  /** True where the block is used up. */
  get done(): boolean {
    return this.#at >= this.#bytes.length;
  }

  /** Skips blanks; true where another word stands on the line. A "#" ends the line as a comment. */
  hasWord(): boolean {
    const bytes = this.#bytes;
    let at = this.#at;
    for (;;) {
      const c = bytes[at];
      if (c === BACKSLASH && this.#continues && isLineEnd(bytes[at + 1])) at = this.#pastLineEnd(at + 1);
      else if (c <= SPACE && !isLineEnd(c)) at++;
      else {
        this.#at = at;
        return at < bytes.length && !isLineEnd(c) && c !== HASH;
      }
    }
  }

  /** Moves behind the line's end. */
  nextLine(): void {
    const bytes = this.#bytes;
    let at = this.#at;
    while (at < bytes.length && !isLineEnd(bytes[at])) {
      if (bytes[at] === BACKSLASH && this.#continues && isLineEnd(bytes[at + 1]))
        at = this.#pastLineEnd(at + 1);
      else at++;
    }
    this.#at = at < bytes.length ? this.#pastLineEnd(at) : at;
  }

  /** Moves to the next line that has a word, in this block; false where there is none. */
  nextFilledLine(): boolean {
    while (!this.done) {
      if (this.hasWord()) return true;
      this.nextLine();
    }
    return false;
  }

  /** The next word, lower case; a very long one is cut. Only for words that name things: it makes a string. */
  word(): string {
    if (!this.hasWord()) throw this.wrong({ is: 'word-missing' });
    const start = this.#at;
    this.#at = this.#wordEnd();
    return latin(this.#bytes, start, this.#at).toLowerCase();
  }

  /** Moves behind the word if it is `keyword` (lower-case bytes), in either case; else stays. After `hasWord`. */
  accept(keyword: Uint8Array): boolean {
    const bytes = this.#bytes;
    const at = this.#at;
    for (let k = 0; k < keyword.length; k++) if ((bytes[at + k] | LOWER) !== keyword[k]) return false;
    if (!endsWord(bytes[at + keyword.length])) return false;
    this.#at = at + keyword.length;
    return true;
  }

  /** Byte at `ahead` of the next character, to tell commands apart without a string. */
  peek(ahead: number): number {
    return this.#bytes[this.#at + ahead];
  }

  skip(count: number): void {
    this.#at += count;
  }

  /** True where these words (lower-case bytes) come next, one after the other. After `hasWord`. */
  isAt(...keywords: readonly Uint8Array[]): boolean {
    const start = this.#at;
    const isHere = keywords.every((keyword) => this.hasWord() && this.accept(keyword));
    this.#at = start;
    return isHere;
  }

  /**
   * What else stands on the line, without blanks around it; cut where it is very long.
   * @param endsBefore asked at the start of each word whether the text ends before it.
   */
  restOfLine(endsBefore: () => boolean = () => false): string {
    const bytes = this.#bytes;
    const start = this.#at;
    let end = start;
    for (; end < bytes.length && !isLineEnd(bytes[end]); end++) {
      this.#at = end;
      if (bytes[end] > SPACE && bytes[end - 1] <= SPACE && endsBefore()) break;
    }
    this.#at = end;
    return new TextDecoder().decode(bytes.subarray(start, Math.min(end, start + LONGEST_WORD))).trim();
  }

  /** Moves behind the word. */
  skipWord(): void {
    this.#at = this.#wordEnd();
  }

  /**
   * The next word as a number, rounded as `Number` would. Infinite and "nan" in the usual
   * spellings come back as such.
   */
  number(): number {
    if (!this.hasWord()) throw this.wrong({ is: 'number-missing' });
    const start = this.#at;
    const end = this.#wordEnd();
    const value = readDecimal(this.#bytes, start, end);
    if (Number.isNaN(value)) return this.#oddNumber(start);
    this.#at = end;
    return value;
  }

  /** The next word as a whole number, stopping before anything else that follows (as in "12/7"). */
  integer(): number {
    if (!this.hasWord()) throw this.wrong({ is: 'number-missing' });
    const bytes = this.#bytes;
    const start = this.#at;
    let at = start;
    let c = bytes[at];
    const negative = c === MINUS;
    if (negative || c === PLUS) c = bytes[++at];
    const firstDigit = at;
    let value = 0;
    for (; (c - ZERO) >>> 0 < 10; c = bytes[++at]) value = value * 10 + (c - ZERO);
    if (at === firstDigit) throw this.#notANumber(start);
    this.#at = at;
    return negative ? -value : value;
  }

  /** The next word as a count: a whole number from 0, standing alone. */
  count(): number {
    const value = this.integer();
    if (value < 0 || !endsWord(this.#bytes[this.#at])) throw this.wrong({ is: 'count-not-whole' });
    return value;
  }

  /** The next word as a vertex index from 0, below `vertices`. */
  index(vertices: number): number {
    const value = this.count();
    if (value >= vertices) throw this.wrong({ is: 'vertex-missing', vertex: value });
    return value;
  }

  /** An error about this line. */
  wrong(fault: FileFault) {
    return malformed(this.#feed, fault, this.line);
  }

  #oddNumber(start: number): number {
    this.#at = start;
    const text = this.word();
    if (/^[-+]?(nan|1\.#(qnan|snan|ind))/.test(text)) return Number.NaN;
    if (/^[-+]?(inf|1\.#inf)/.test(text)) return Number.POSITIVE_INFINITY;
    throw this.#notANumber(start);
  }

  #notANumber(start: number) {
    this.#at = start;
    const text = latin(this.#bytes, start, Math.min(this.#wordEnd(), start + QUOTED));
    return this.wrong({ is: 'not-a-number', text: text.replace(/[^ -~]/g, '?') });
  }

  #wordEnd(): number {
    const bytes = this.#bytes;
    let at = this.#at;
    while (at < bytes.length && bytes[at] > SPACE) at++;
    return at;
  }

  /** Behind the line end at `at`, which may be LF, CR or both. */
  #pastLineEnd(at: number): number {
    this.line++;
    return this.#bytes[at] === CR && this.#bytes[at + 1] === LF ? at + 2 : at + 1;
  }
}

const isLineEnd = (c: number): boolean => c === LF || c === CR;

/** True for blanks, line ends and the end of the bytes. */
const endsWord = (c: number | undefined): boolean => c === undefined || c <= SPACE;

const latin = (bytes: Uint8Array, start: number, end: number): string =>
  String.fromCharCode(...bytes.subarray(start, Math.min(end, start + LONGEST_WORD)));
