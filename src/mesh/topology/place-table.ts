import { placeHash } from './place-hash.ts';

/** Numbers places 0, 1, 2, … in the order they first come; equal coordinates are one place, zero and minus zero too. */
export class PlaceTable {
  /** Places numbered so far. */
  count = 0;
  /** Their coordinates' bits, three a place. */
  #places: Int32Array;
  /** One more than the place's number; 0 where free. */
  #slots: Uint32Array;
  readonly #single = new Float32Array(3);
  readonly #bits = new Int32Array(this.#single.buffer);

  /** @param expected places there is room for at once; more are taken as they come. */
  constructor(expected: number) {
    const size = 2 ** Math.ceil(Math.log2(Math.max(8, expected * 2)));
    this.#slots = new Uint32Array(size);
    this.#places = new Int32Array((size / 2) * 3);
  }

  /** The number of the place at x, y, z, rounded to single precision. */
  number(x: number, y: number, z: number): number {
    // Adding zero turns minus zero into zero.
    this.#single[0] = x + 0;
    this.#single[1] = y + 0;
    this.#single[2] = z + 0;
    const bx = this.#bits[0];
    const by = this.#bits[1];
    const bz = this.#bits[2];
    const at = this.#place(bx, by, bz);
    const known = this.#slots[at];
    if (known > 0) return known - 1;
    const number = this.count++;
    this.#places[number * 3] = bx;
    this.#places[number * 3 + 1] = by;
    this.#places[number * 3 + 2] = bz;
    this.#slots[at] = this.count;
    if (this.count * 2 >= this.#slots.length) this.#grow();
    return number;
  }

  /** The slot that has the place, or the free one where it belongs. */
  #place(x: number, y: number, z: number): number {
    const places = this.#places;
    const mask = this.#slots.length - 1;
    let at = placeHash(x, y, z) & mask;
    for (let known = this.#slots[at]; known > 0; known = this.#slots[at]) {
      const i = known * 3 - 3;
      if (places[i] === x && places[i + 1] === y && places[i + 2] === z) break;
      at = (at + 1) & mask;
    }
    return at;
  }

  #grow(): void {
    const places = this.#places;
    this.#places = new Int32Array(places.length * 2);
    this.#places.set(places);
    this.#slots = new Uint32Array(this.#slots.length * 2);
    for (let number = 0; number < this.count; number++) {
      const i = number * 3;
      this.#slots[this.#place(places[i], places[i + 1], places[i + 2])] = number + 1;
    }
  }
}
