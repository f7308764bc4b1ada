import { PairTable } from './pair-table.ts';

/** Numbers places 0, 1, 2, … in the order they first come; equal coordinates are one place, zero and minus zero too. */
export class PlaceTable {
  readonly #columns: PairTable;
  readonly #places: PairTable;
  readonly #single = new Float32Array(3);
  readonly #bits = new Uint32Array(this.#single.buffer);

  /** @param expected places there is room for at once; more are taken as they come. */
  constructor(expected: number) {
    this.#columns = new PairTable(expected);
    this.#places = new PairTable(expected);
  }

  get count(): number {
    return this.#places.count;
  }

  /** The number of the place at x, y, z, rounded to single precision. */
  number(x: number, y: number, z: number): number {
    // Adding zero turns minus zero into zero.
    this.#single[0] = x + 0;
    this.#single[1] = y + 0;
    this.#single[2] = z + 0;
    return this.#places.number(this.#columns.number(this.#bits[0], this.#bits[1]), this.#bits[2]);
  }
}
