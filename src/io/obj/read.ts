import { BodyRuns, joinSharing, told } from '../build/body-runs.ts';
import { FaceList } from '../build/face-list.ts';
import type { Feed } from '../bytes/feed.ts';
import { growingF64 } from '../bytes/growing.ts';
import { checkTriangleCount, type RawMesh } from '../raw-mesh.ts';
import { textHead } from '../text/head.ts';
import { beforeComment, type LongLine } from '../text/line-blocks.ts';
import { type LineReader, readLines } from '../text/read-lines.ts';
import { TextScanner } from '../text/scanner.ts';

const LOWER_V = 118;
const LOWER_F = 102;
const LOWER_G = 103;
const LOWER_O = 111;
const SPACE = 32;
const SLASH = 47;
/** More than a name that is told. */
const STATEMENT_BYTES = 2000;

/** Text with a line that gives a vertex. */
export function isObj(head: Uint8Array): boolean {
  const text = textHead(head);
  return text !== null && /^[ \t]*v[ \t]+[-+.\d]/m.test(text);
}

/**
 * Reads the polygons of an OBJ file; indices count from 1, negative ones back from the last vertex. Objects are
 * bodies, or groups where there are no objects; those that share vertices are one body, for one surface spans them.
 * Texture, normals, materials, lines and free-form surfaces are passed over.
 */
export function readObj(feed: Feed): Promise<RawMesh> {
  return readLines(feed, feed.pieces, new ObjReader(feed), true);
}

class ObjReader implements LineReader {
  readonly #feed: Feed;
  readonly scanner: TextScanner;
  readonly #positions = growingF64();
  readonly #faces: FaceList;
  readonly #objects = new BodyRuns();
  readonly #groups = new BodyRuns();
  /** The largest vertex index used before its vertex came, and what to say should it never come. */
  #awaited: { index: number; error: Error } | null = null;

  constructor(feed: Feed) {
    this.#feed = feed;
    this.#faces = new FaceList(feed);
    this.scanner = new TextScanner(feed, { continues: true });
  }

  takeBlock(): void {
    const scanner = this.scanner;
    for (; scanner.nextFilledLine(); scanner.nextLine()) {
      const isOneLetter = scanner.peek(1) <= SPACE;
      if (isOneLetter && scanner.peek(0) === LOWER_V) this.#takeVertex();
      else if (isOneLetter && scanner.peek(0) === LOWER_F) this.#takeFace();
      else if (isOneLetter && scanner.peek(0) === LOWER_O) this.#startRun(this.#objects);
      else if (isOneLetter && scanner.peek(0) === LOWER_G) this.#startRun(this.#groups);
      else this.#checkStatement();
    }
    checkTriangleCount(this.#feed, this.#faces.triangleCount);
  }

  /** Of a statement that is passed over, or named, its start will do; of a vertex or a face what stands before a comment. */
  longLine(start: Uint8Array): LongLine | null {
    const at = start.findIndex((c) => c > SPACE);
    const isRead = at < 0 || ((start[at] === LOWER_V || start[at] === LOWER_F) && start[at + 1] <= SPACE);
    return isRead ? beforeComment(start) : { keep: Math.min(start.length, at + STATEMENT_BYTES), skip: true };
  }

  finish(): RawMesh {
    const positions = this.#positions.take();
    if (this.#awaited !== null && this.#awaited.index >= positions.length / 3) throw this.#awaited.error;
    const mesh = this.#faces.finish(positions);
    const runs = this.#objects.isEmpty ? this.#groups : this.#objects;
    return { ...mesh, ...told(joinSharing(runs.bodies(mesh.triangles.length / 3), mesh)) };
  }

  #startRun(runs: BodyRuns): void {
    this.scanner.skip(1);
    runs.start(this.scanner.restOfLine(), this.#faces.triangleCount);
  }

  #takeVertex(): void {
    const scanner = this.scanner;
    scanner.skip(1);
    this.#positions.push3(scanner.number(), scanner.number(), scanner.number());
  }

  #takeFace(): void {
    const scanner = this.scanner;
    scanner.skip(1);
    while (scanner.hasWord()) {
      this.#faces.corner(this.#vertexOf(scanner.integer()));
      // Texture and normal references hang on slashes.
      const next = scanner.peek(0);
      if (next > SPACE && next !== SLASH) throw scanner.wrong({ is: 'vertex-number-not-whole' });
      scanner.skipWord();
    }
    this.#faces.close();
  }

  /** Index from 0 for one that counts from 1, or back from the last vertex. */
  #vertexOf(reference: number): number {
    const known = this.#positions.length / 3;
    const index = reference > 0 ? reference - 1 : known + reference;
    if (reference === 0 || index < 0 || index > 0xfffffffe) throw this.#noVertex(reference);
    if (index >= known && index > (this.#awaited?.index ?? -1)) {
      this.#awaited = { index, error: this.#noVertex(reference) };
    }
    return index;
  }

  #noVertex(reference: number) {
    return this.scanner.wrong({ is: 'vertex-missing', vertex: reference });
  }

  /** A statement that is passed over must at least begin like one. */
  #checkStatement(): void {
    const first = String.fromCharCode(this.scanner.peek(0));
    if (!/[a-z]/i.test(first)) throw this.scanner.wrong({ is: 'statement-missing' });
  }
}
