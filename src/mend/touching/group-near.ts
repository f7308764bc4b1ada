import { joinShells, newShells } from '../../mesh/topology/shells.ts';

/**
 * Groups of points chained by steps no longer than either end's reach (mm): for each listed vertex the place in the
 * list of the one that stands for its group. Points lie in hashed cells of the size `cell`, at least the longest
 * reach, so each looks at its own and the 26 beside it; a chance meeting in one slot only costs a look.
 */
export function groupNear(
  p: Float32Array,
  listed: Uint32Array,
  reach: Float64Array,
  cell: number,
): Uint32Array {
  const groups = newShells(listed.length);
  const mask = 2 ** Math.ceil(Math.log2(listed.length * 2 + 2)) - 1;
  /** One more than the last point put in the slot; `before` goes on to the ones before it. */
  const slots = new Uint32Array(mask + 1);
  const before = new Uint32Array(listed.length);
  for (let n = 0; n < listed.length; n++) {
    const at = listed[n] * 3;
    const x = Math.floor(p[at] / cell);
    const y = Math.floor(p[at + 1] / cell);
    const z = Math.floor(p[at + 2] / cell);
    for (let side = 0; side < 27; side++) {
      const slot = hash(x + (side % 3) - 1, y + (((side / 3) | 0) % 3) - 1, z + ((side / 9) | 0) - 1) & mask;
      for (let m = slots[slot]; m > 0; m = before[m - 1]) {
        const other = listed[m - 1] * 3;
        const far = Math.hypot(p[at] - p[other], p[at + 1] - p[other + 1], p[at + 2] - p[other + 2]);
        if (far <= reach[n] && far <= reach[m - 1]) joinShells(groups, n, m - 1);
      }
    }
    const slot = hash(x, y, z) & mask;
    before[n] = slots[slot];
    slots[slot] = n + 1;
  }
  for (let n = 0; n < groups.length; n++) groups[n] = groups[groups[n]];
  return groups;
}

function hash(x: number, y: number, z: number): number {
  const h = Math.imul(x, 0x9e3779b1) ^ Math.imul(y, 0x85ebca6b) ^ Math.imul(z, 0xc2b2ae35);
  return Math.imul(h ^ (h >>> 15), 0x27d4eb2f) >>> 3;
}
