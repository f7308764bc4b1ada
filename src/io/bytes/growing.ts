import { IO_TUNING } from '../tuning.ts';

type Numbers = Float32Array | Float64Array | Uint32Array;

/** A typed array that grows as numbers really arrive, so that no count a file claims can claim memory. */
export class Growing<A extends Numbers> {
  array: A;
  length = 0;
  readonly #make: (length: number) => A;

  /** @param room numbers to hold before growing; only for counts that the bytes present bear out. */
  constructor(make: (length: number) => A, room: number) {
    this.#make = make;
    this.array = make(room);
  }

  push(value: number): void {
    if (this.length === this.array.length) this.reserve(1);
    this.array[this.length++] = value;
  }

  push3(a: number, b: number, c: number): void {
    if (this.length + 3 > this.array.length) this.reserve(3);
    const { array, length } = this;
    array[length] = a;
    array[length + 1] = b;
    array[length + 2] = c;
    this.length = length + 3;
  }

  /** Makes room for `more` numbers behind those there are. */
  reserve(more: number): void {
    const needed = this.length + more;
    if (needed <= this.array.length) return;
    const larger = this.#make(Math.max(needed, this.array.length * 2));
    larger.set(this.array.subarray(0, this.length));
    this.array = larger;
  }

  /** The numbers so far, trimmed to their count. The growing array must not be used afterwards. */
  take(): A {
    if (this.array.length === this.length) return this.array;
    const trimmed = this.#make(this.length);
    trimmed.set(this.array.subarray(0, this.length));
    return trimmed;
  }
}

export const growingF32 = (room: number = IO_TUNING.firstRoom) =>
  new Growing((n) => new Float32Array(n), room);
export const growingF64 = (room: number = IO_TUNING.firstRoom) =>
  new Growing((n) => new Float64Array(n), room);
export const growingU32 = (room: number = IO_TUNING.firstRoom) =>
  new Growing((n) => new Uint32Array(n), room);
