import { BodyRuns, told } from '../build/body-runs.ts';
import { type Feed, truncated } from '../bytes/feed.ts';
import { growingF64 } from '../bytes/growing.ts';
import { checkTriangleCount, looseTriangles, type RawMesh } from '../raw-mesh.ts';
import { textHead } from '../text/head.ts';
import type { LongLine } from '../text/line-blocks.ts';
import { type LineReader, readLines } from '../text/read-lines.ts';
import { TextScanner } from '../text/scanner.ts';

/** Text that begins with "solid" and goes on to facets, or ends without any. */
export function isTextStl(head: Uint8Array): boolean {
  const text = textHead(head);
  return text !== null && /^solid\b[\s\S]*?\b(facet|endsolid)\b/i.test(text);
}

/** Reads a text STL to loose triangles, a body for every solid; normals are not trusted. */
export function readStlText(feed: Feed): Promise<RawMesh> {
  return readLines(feed, feed.pieces, new TextStlReader(feed));
}

const keyword = (text: string) => new TextEncoder().encode(text);
const VERTEX = keyword('vertex');
const FACET = keyword('facet');
const NORMAL = keyword('normal');
const OUTER = keyword('outer');
const LOOP = keyword('loop');
const END_LOOP = keyword('endloop');
const END_FACET = keyword('endfacet');
const SOLID = keyword('solid');
const END_SOLID = keyword('endsolid');

/** Just behind the last place of a word, in either case, that a blank follows; 0 if there is none. */
function behindLast(bytes: Uint8Array, word: Uint8Array): number {
  for (let end = bytes.length - 1; end >= word.length; end--) {
    if (bytes[end] <= 32 && word.every((c, k) => (bytes[end - word.length + k] | 32) === c)) return end;
  }
  return 0;
}

/** Goes by words, however they are spread over lines. */
class TextStlReader implements LineReader {
  readonly #feed: Feed;
  readonly scanner: TextScanner;
  readonly #corners = growingF64();
  readonly #solids = new BodyRuns();
  #inLoop = false;

  constructor(feed: Feed) {
    this.#feed = feed;
    this.scanner = new TextScanner(feed);
  }

  takeBlock(): void {
    while (this.scanner.nextFilledLine()) this.#takeWord();
    checkTriangleCount(this.#feed, this.#wholeTriangles);
  }

  /** A text all on one line is parted behind a facet. */
  longLine(start: Uint8Array): LongLine | null {
    const keep = behindLast(start, END_FACET);
    return keep > 0 ? { keep, skip: false } : null;
  }

  finish(): RawMesh {
    const whole = this.#wholeTriangles;
    if (this.#inLoop) throw truncated(this.#feed, whole + 1, whole, 'triangles');
    return { ...looseTriangles(this.#corners.take()), ...told(this.#solids.bodies(whole)) };
  }

  get #wholeTriangles(): number {
    return Math.floor(this.#corners.length / 9);
  }

  #takeWord(): void {
    const scanner = this.scanner;
    if (scanner.accept(VERTEX)) this.#takeVertex();
    else if (scanner.accept(NORMAL)) this.#skipNormal();
    else if (scanner.accept(LOOP)) this.#inLoop = true;
    else if (scanner.accept(END_LOOP)) this.#endLoop();
    else if (scanner.accept(SOLID)) this.#startSolid();
    else if (scanner.accept(END_SOLID)) scanner.restOfLine(() => scanner.isAt(SOLID));
    else if (!(scanner.accept(FACET) || scanner.accept(OUTER) || scanner.accept(END_FACET))) {
      throw scanner.wrong({ is: 'word-misplaced' });
    }
  }

  /** Its name ends with the line, or where its facets begin on the same. */
  #startSolid(): void {
    const scanner = this.scanner;
    const name = scanner.restOfLine(() => scanner.isAt(FACET, NORMAL) || scanner.isAt(END_SOLID));
    this.#solids.start(name, this.#wholeTriangles);
  }

  #takeVertex(): void {
    const scanner = this.scanner;
    if (!this.#inLoop) throw scanner.wrong({ is: 'vertex-outside-loop' });
    this.#corners.push3(scanner.number(), scanner.number(), scanner.number());
  }

  #skipNormal(): void {
    for (let k = 0; k < 3 && this.scanner.hasWord(); k++) this.scanner.skipWord();
  }

  #endLoop(): void {
    this.#inLoop = false;
    if (this.#corners.length % 9 !== 0) throw this.scanner.wrong({ is: 'facet-not-triangle' });
  }
}
