/** An open-addressing map from an edge (a pair of vertices in either order) to a number. */
export class EdgeTable {
  readonly #low: Uint32Array;
  readonly #high: Uint32Array;
  readonly #value: Uint32Array;
  readonly #mask: number;

  constructor(edgeCount: number) {
    const size = 2 ** Math.ceil(Math.log2(edgeCount * 1.6 + 16));
    this.#mask = size - 1;
    this.#low = new Uint32Array(size);
    // A stored pair has low < high, so a zero here marks a free slot.
    this.#high = new Uint32Array(size);
    this.#value = new Uint32Array(size);
  }

  /** The number kept for the edge; if there is none yet, `fresh` is kept and answered. */
  find(a: number, b: number, fresh: number): number {
    const low = Math.min(a, b);
    const high = Math.max(a, b);
    let slot = (Math.imul(low, 0x9e3779b1) ^ Math.imul(high, 0x85ebca6b)) & this.#mask;
    slot ^= slot >>> 13;
    while (this.#high[slot] !== 0) {
      if (this.#low[slot] === low && this.#high[slot] === high) return this.#value[slot];
      slot = (slot + 1) & this.#mask;
    }
    this.#low[slot] = low;
    this.#high[slot] = high;
    this.#value[slot] = fresh;
    return fresh;
  }
}
