import type { Part } from './part.ts';

/** True for parts that are equal to the bit: vertices, patches, and what those are. What differs does so early, mostly by its size. */
export function isSamePart(a: Part, b: Part): boolean {
  if (a === b) return true;
  return (
    a.patches.length === b.patches.length &&
    a.patches.every(({ triangles }, i) => triangles.length === b.patches[i].triangles.length) &&
    isSameArray(a.positions, b.positions) &&
    isSameArray(a.added, b.added) &&
    a.patches.every(
      ({ of, triangles }, i) =>
        isSameArray(triangles, b.patches[i].triangles) &&
        JSON.stringify(of) === JSON.stringify(b.patches[i].of),
    )
  );
}

/** Equal numbers; a zero's sign does not count. */
function isSameArray(a: Float32Array | Uint32Array, b: Float32Array | Uint32Array): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}
