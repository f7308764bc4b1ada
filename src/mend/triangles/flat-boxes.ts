/** Boxes in one array, six numbers each: min x, y, z, max x, y, z; mm. */

/** No box at all: what is widened first takes its place. */
export const NOWHERE = [Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity];

/** Widens the box at `at` to hold the corners at `low` and `high`. */
export function widen(boxes: Float32Array, at: number, src: Float32Array, low: number, high: number): void {
  for (let k = 0; k < 3; k++) {
    if (src[low + k] < boxes[at + k]) boxes[at + k] = src[low + k];
    if (src[high + k] > boxes[at + 3 + k]) boxes[at + 3 + k] = src[high + k];
  }
}

/** True where box `a` of some and box `b` of others have no point in common. */
export function boxesApart(some: Float32Array, a: number, others: Float32Array, b: number): boolean {
  for (let k = 0, i = a * 6, j = b * 6; k < 3; k++, i++, j++) {
    if (some[i] > others[j + 3] || others[j] > some[i + 3]) return true;
  }
  return false;
}

/** Puts what two boxes that meet have in common into `box`, which it answers. */
export function commonBox(
  some: Float32Array,
  a: number,
  others: Float32Array,
  b: number,
  box = new Float32Array(6),
): Float32Array {
  for (let k = 0, i = a * 6, j = b * 6; k < 3; k++, i++, j++) {
    box[k] = Math.max(some[i], others[j]);
    box[k + 3] = Math.min(some[i + 3], others[j + 3]);
  }
  return box;
}
