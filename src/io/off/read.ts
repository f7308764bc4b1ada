import { FaceList } from '../build/face-list.ts';
import { type Feed, truncated } from '../bytes/feed.ts';
import { growingF64 } from '../bytes/growing.ts';
import { checkTriangleCount, type RawMesh } from '../raw-mesh.ts';
import { textHead } from '../text/head.ts';
import { beforeComment } from '../text/line-blocks.ts';
import { type LineReader, readLines } from '../text/read-lines.ts';
import { TextScanner } from '../text/scanner.ts';
import { IO_TUNING } from '../tuning.ts';

/** Header words: texture, colour and normal columns come after the coordinates and are passed over. */
const HEADER = /^(st)?c?n?off$/;

/** Text whose first word, comments aside, is a header word, also one of those that are not read. */
export function isOff(head: Uint8Array): boolean {
  const first = textHead(head.subarray(0, IO_TUNING.headBytes))?.replace(/^(#[^\n\r]*\s+)+/, '');
  return first !== undefined && /^(ST)?C?N?4?n?OFF\s/i.test(first);
}

/** Reads an OFF file: header, counts, a line for each vertex, a line for each face (count, indices, colour). */
export function readOff(feed: Feed): Promise<RawMesh> {
  return readLines(feed, feed.pieces, new OffReader(feed));
}

class OffReader implements LineReader {
  readonly #feed: Feed;
  readonly scanner: TextScanner;
  readonly longLine = beforeComment;
  readonly #positions = growingF64();
  readonly #faces: FaceList;
  #hasHeader = false;
  #vertices = -1;
  #facesPromised = 0;
  #facesFound = 0;

  constructor(feed: Feed) {
    this.#feed = feed;
    this.#faces = new FaceList(feed);
    this.scanner = new TextScanner(feed);
  }

  takeBlock(): void {
    const scanner = this.scanner;
    for (; scanner.nextFilledLine(); scanner.nextLine()) {
      if (!this.#hasHeader) this.#takeHeader();
      else if (this.#vertices < 0) this.#takeCounts();
      else if (this.#positions.length < this.#vertices * 3) this.#takeVertex();
      else if (this.#facesFound < this.#facesPromised) this.#takeFace();
      else throw scanner.wrong({ is: 'faces-exceed', declared: this.#facesPromised });
    }
    checkTriangleCount(this.#feed, this.#faces.triangleCount);
  }

  finish(): RawMesh {
    const found = this.#positions.length / 3;
    if (this.#vertices < 0) throw this.scanner.wrong({ is: 'counts-missing' });
    if (found < this.#vertices) throw truncated(this.#feed, this.#vertices, found, 'vertices');
    if (this.#facesFound < this.#facesPromised) {
      throw truncated(this.#feed, this.#facesPromised, this.#facesFound, 'faces');
    }
    return this.#faces.finish(this.#positions.take());
  }

  /** The header word; the counts may follow on its line. */
  #takeHeader(): void {
    const word = this.scanner.word();
    if (!HEADER.test(word)) throw this.scanner.wrong({ is: 'off-kind', word });
    this.#hasHeader = true;
    if (!this.scanner.hasWord()) return;
    if (/[a-z]/i.test(String.fromCharCode(this.scanner.peek(0)))) {
      throw this.scanner.wrong({ is: 'off-binary' });
    }
    this.#takeCounts();
  }

  /** Vertices and faces; a third number, of edges, is passed over. */
  #takeCounts(): void {
    this.#vertices = this.scanner.count();
    this.#facesPromised = this.scanner.count();
  }

  #takeVertex(): void {
    const scanner = this.scanner;
    this.#positions.push3(scanner.number(), scanner.number(), scanner.number());
  }

  #takeFace(): void {
    const scanner = this.scanner;
    const corners = scanner.count();
    for (let k = 0; k < corners; k++) this.#faces.corner(scanner.index(this.#vertices));
    this.#faces.close();
    this.#facesFound++;
  }
}
