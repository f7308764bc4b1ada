import { type Feed, truncated } from '../bytes/feed.ts';
import type { RawMesh } from '../raw-mesh.ts';
import { type LineReader, readLines } from '../text/read-lines.ts';
import { TextScanner } from '../text/scanner.ts';
import type { PlyElement, PlyHeader } from './header.ts';
import { PlySink, type Role, roleOf } from './sink.ts';

/** Reads the body of an ascii PLY: a line for each item of each element. */
export function readPlyText(
  feed: Feed,
  header: PlyHeader,
  body: AsyncIterable<Uint8Array>,
): Promise<RawMesh> {
  return readLines(feed, body, new PlyTextReader(feed, header));
}

class PlyTextReader implements LineReader {
  readonly #feed: Feed;
  readonly scanner: TextScanner;
  readonly #sink: PlySink;
  readonly #elements: PlyElement[];
  /** The element whose items come now, and how many of them came. */
  #current = 0;
  #items = 0;
  readonly #xyz = { x: 0, y: 0, z: 0 };

  constructor(feed: Feed, header: PlyHeader) {
    this.#feed = feed;
    this.scanner = new TextScanner(feed);
    this.scanner.line = header.lines + 1;
    this.#sink = new PlySink(feed, header);
    this.#elements = header.elements.filter(({ properties }) => properties.length > 0);
    this.#skipFinished();
  }

  takeBlock(): void {
    const scanner = this.scanner;
    for (; scanner.nextFilledLine(); scanner.nextLine()) {
      const element = this.#elements[this.#current];
      if (element === undefined) throw scanner.wrong({ is: 'goes-on' });
      this.#takeItem(element);
      this.#items++;
      this.#skipFinished();
    }
    this.#sink.checkCount();
  }

  finish(): RawMesh {
    const element = this.#elements[this.#current];
    if (element !== undefined)
      throw truncated(this.#feed, element.count, this.#items, 'item-lines', element.name);
    return this.#sink.finish();
  }

  #skipFinished(): void {
    while (this.#items === this.#elements[this.#current]?.count) {
      this.#current++;
      this.#items = 0;
    }
  }

  #takeItem(element: PlyElement): void {
    const scanner = this.scanner;
    for (const property of element.properties) {
      const role = roleOf(element, property);
      if (property.length !== null) this.#takeList(role);
      else if (role === 'x' || role === 'y' || role === 'z') this.#xyz[role] = scanner.number();
      else scanner.number();
    }
    const { x, y, z } = this.#xyz;
    if (element.name === 'vertex') this.#sink.positions.push3(x, y, z);
  }

  #takeList(role: Role): void {
    const scanner = this.scanner;
    const sink = this.#sink;
    const length = scanner.number();
    sink.checkLength(length, scanner.line);
    for (let k = 0; k < length; k++) {
      const value = scanner.number();
      if (role === 'corners') sink.corner(value, scanner.line);
      else if (role === 'strip') sink.stripCorner(value, scanner.line);
    }
    if (role === 'corners') sink.endFace();
    else if (role === 'strip') sink.endStrip();
  }
}
