import { placeHash } from './place-hash.ts';

/** Corners numbered in one go: so few that a first call, not yet compiled, is soon over. */
const SLICE = 1 << 14;
const LEAST_ROOM = 64;

/**
 * Numbers corners as they come, 0, 1, 2, …: equal places (bit for bit, but −0 equals 0) have one number. Open
 * addressing over typed arrays.
 */
export class CornerNumbers {
  /** Different places so far. */
  count = 0;
  /** Their coordinates, as float bits. */
  #bits: Int32Array;
  /** One more than a place's number, 0 where free. */
  #slots: Int32Array;

  /** @param room places there is room for at once; more are taken as they come. */
  constructor(room: number) {
    const atLeast = Math.max(LEAST_ROOM, Math.ceil(room));
    this.#bits = new Int32Array(atLeast * 3);
    this.#slots = freeSlots(atLeast);
  }

  /** Numbers the first `corners` corners, whose coordinates' bits `src` has, into `dst` from `at` on. */
  number(src: Int32Array, corners: number, dst: Uint32Array, at: number): void {
    for (let from = 0; from < corners; ) {
      if (this.count * 3 === this.#bits.length) this.#grow();
      const to = Math.min(corners, from + SLICE, from + this.#bits.length / 3 - this.count);
      this.count = numberSome(src, from, to, dst, at + from, this.#bits, this.#slots, this.count);
      from = to;
    }
  }

  /** The places in the order of their numbers. */
  positions(): Float32Array {
    return new Float32Array(this.#bits.slice(0, this.count * 3).buffer);
  }

  #grow(): void {
    const bits = new Int32Array(this.#bits.length * 2);
    bits.set(this.#bits);
    this.#bits = bits;
    this.#slots = freeSlots(bits.length / 3);
    const mask = this.#slots.length - 1;
    for (let id = 0; id < this.count; id++) {
      let slot = placeHash(bits[id * 3], bits[id * 3 + 1], bits[id * 3 + 2]) & mask;
      while (this.#slots[slot] !== 0) slot = (slot + 1) & mask;
      this.#slots[slot] = id + 1;
    }
  }
}

/** At least two slots for every place, so that probes stay short. */
const freeSlots = (room: number): Int32Array => new Int32Array(2 ** Math.ceil(Math.log2(room * 2)));

/**
 * The loop by itself, over local numbers alone: it runs compiled after a slice or two. There is room for as many places.
 * @returns how many places there are after it.
 */
function numberSome(
  src: Int32Array,
  from: number,
  to: number,
  dst: Uint32Array,
  at: number,
  bits: Int32Array,
  slots: Int32Array,
  known: number,
): number {
  const mask = slots.length - 1;
  let count = known;
  for (let i = from, w = at; i < to; i++, w++) {
    const x = src[i * 3];
    const y = src[i * 3 + 1];
    const z = src[i * 3 + 2];
    let slot = placeHash(x, y, z) & mask;
    let next = slots[slot];
    while (next > 0) {
      const k = next * 3 - 3;
      if (sameNumber(bits[k], x) && sameNumber(bits[k + 1], y) && sameNumber(bits[k + 2], z)) break;
      slot = (slot + 1) & mask;
      next = slots[slot];
    }
    if (next === 0) {
      bits[count * 3] = x;
      bits[count * 3 + 1] = y;
      bits[count * 3 + 2] = z;
      next = ++count;
      slots[slot] = next;
    }
    dst[w] = next - 1;
  }
  return count;
}

/** Equal as floats given their bits: shifting the sign out tells the two zeros. */
const sameNumber = (a: number, b: number): boolean => a === b || (a | b) << 1 === 0;
