import type { Mesh } from '../mesh.ts';

/**
 * Indices of the triangles that repeat an earlier one: the same three corners in the same turn,
 * whichever comes first. Triangles listed in `without` (ascending) are left out.
 */
export function findDuplicates({ triangles: t }: Mesh, without: Uint32Array): Uint32Array {
  const slots = new Uint32Array(2 ** Math.ceil(Math.log2(Math.max(2, (t.length / 3) * 2))));
  const mask = slots.length - 1;
  const found: number[] = [];
  let skip = 0;
  for (let i = 0; i < t.length; i += 3) {
    if (without[skip] === i / 3) {
      skip++;
      continue;
    }
    const k = smallestFirst(t, i);
    let slot = (Math.imul(t[i + k], 0x9e3779b1) ^ Math.imul(t[i + ((k + 1) % 3)], 0x85ebca6b)) & mask;
    while (slots[slot] !== 0 && !sameTriangle(t, slots[slot] - 1, i, k)) slot = (slot + 1) & mask;
    if (slots[slot] === 0) slots[slot] = i + 1;
    else found.push(i / 3);
  }
  return Uint32Array.from(found);
}

/** Which corner, 0 to 2, of the triangle at `i` has the smallest vertex. */
function smallestFirst(t: Uint32Array, i: number): number {
  if (t[i] < t[i + 1]) return t[i] < t[i + 2] ? 0 : 2;
  return t[i + 1] < t[i + 2] ? 1 : 2;
}

/** True where the triangle at `j` turns through the same corners as the one at `i`, whose smallest is corner `k`. */
function sameTriangle(t: Uint32Array, j: number, i: number, k: number): boolean {
  const m = smallestFirst(t, j);
  return (
    t[i + k] === t[j + m] &&
    t[i + ((k + 1) % 3)] === t[j + ((m + 1) % 3)] &&
    t[i + ((k + 2) % 3)] === t[j + ((m + 2) % 3)]
  );
}
