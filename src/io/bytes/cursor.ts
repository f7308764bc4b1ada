/**
 * A window that slides over pieces of bytes, for binary records that straddle them.
 * Read through `view` from `at`; `available` bytes are there.
 */
export class ByteCursor {
  view: DataView = new DataView(new ArrayBuffer(0));
  at = 0;
  readonly #pieces: AsyncIterator<Uint8Array>;
  #held = new Uint8Array(0);

  constructor(pieces: AsyncIterable<Uint8Array>) {
    this.#pieces = pieces[Symbol.asyncIterator]();
  }

  get available(): number {
    return this.view.byteLength - this.at;
  }

  /** Makes at least `count` bytes available, or returns false when fewer are left. */
  async need(count: number): Promise<boolean> {
    while (this.available < count) if (!(await this.more())) return false;
    return true;
  }

  /** Slides on by one piece, keeping the bytes not read yet. Returns false at the end. */
  async more(): Promise<boolean> {
    const { done, value: piece } = await this.#pieces.next();
    if (done) return false;
    const rest = this.available;
    if (rest === 0) {
      this.view = new DataView(piece.buffer, piece.byteOffset, piece.byteLength);
    } else {
      const kept = new Uint8Array(this.view.buffer, this.view.byteOffset + this.at, rest);
      this.view = this.#joined(kept, piece);
    }
    this.at = 0;
    return true;
  }

  /** Everything not read yet, for a reader that goes on in its own way. */
  async *rest(): AsyncGenerator<Uint8Array> {
    if (this.available > 0) {
      yield new Uint8Array(this.view.buffer, this.view.byteOffset + this.at, this.available);
    }
    yield* { [Symbol.asyncIterator]: () => this.#pieces };
  }

  /** The two behind each other in a buffer that is used again and again. */
  #joined(kept: Uint8Array, piece: Uint8Array): DataView {
    const length = kept.length + piece.length;
    if (this.#held.length < length) {
      const larger = new Uint8Array(length + (length >> 1));
      larger.set(kept);
      this.#held = larger;
    } else {
      this.#held.set(kept); // may overlap itself, which `set` allows
    }
    this.#held.set(piece, kept.length);
    return new DataView(this.#held.buffer, 0, length);
  }
}
