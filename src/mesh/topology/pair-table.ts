/**
 * Numbers pairs of whole numbers (0 to 2³² − 1) 0, 1, 2, … in the order they first come: open addressing
 * over typed arrays. A Map with made-up keys does the same at a fifth of the speed, measured on cut edges.
 */
export class PairTable {
  /** Pairs numbered so far. */
  count = 0;
  #pairs: Uint32Array;
  /** One more than the pair's number; 0 where free. */
  #slots: Uint32Array;

  /** @param expected pairs there is room for at once; more are taken as they come. */
  constructor(expected: number) {
    const size = 2 ** Math.ceil(Math.log2(Math.max(8, expected * 2)));
    this.#slots = new Uint32Array(size);
    this.#pairs = new Uint32Array(size);
  }

  /** The pair's number, given now if it had none. */
  number(a: number, b: number): number {
    const at = this.#place(a, b);
    const known = this.#slots[at];
    if (known > 0) return known - 1;
    const number = this.count++;
    this.#pairs[number * 2] = a;
    this.#pairs[number * 2 + 1] = b;
    this.#slots[at] = this.count;
    if (this.count * 2 >= this.#slots.length) this.#grow();
    return number;
  }

  /** The pair's number, or −1. */
  find(a: number, b: number): number {
    return this.#slots[this.#place(a, b)] - 1;
  }

  first(number: number): number {
    return this.#pairs[number * 2];
  }

  second(number: number): number {
    return this.#pairs[number * 2 + 1];
  }

  #place(a: number, b: number): number {
    const mask = this.#slots.length - 1;
    const mixed = Math.imul(Math.imul(a, 0x9e3779b1) ^ b, 0x85ebca6b);
    let at = (mixed ^ (mixed >>> 15)) & mask;
    for (let known = this.#slots[at]; known > 0; known = this.#slots[at]) {
      const i = known * 2 - 2;
      if (this.#pairs[i] === a && this.#pairs[i + 1] === b) break;
      at = (at + 1) & mask;
    }
    return at;
  }

  #grow(): void {
    const pairs = this.#pairs;
    this.#pairs = new Uint32Array(pairs.length * 2);
    this.#pairs.set(pairs);
    this.#slots = new Uint32Array(this.#slots.length * 2);
    for (let number = 0; number < this.count; number++) {
      this.#slots[this.#place(pairs[number * 2], pairs[number * 2 + 1])] = number + 1;
    }
  }
}
