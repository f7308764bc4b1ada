/** Shells as a union-find forest over triangles: each entry names a triangle of the same shell, the root itself. */

/** Shell number of a triangle that belongs to none. */
export const NO_SHELL = 0xffffffff;

/** Every triangle a shell of its own. */
export function newShells(triangles: number): Uint32Array {
  const parents = new Uint32Array(triangles);
  for (let i = 0; i < triangles; i++) parents[i] = i;
  return parents;
}

/** The triangle that stands for the shell of `i`. */
export function rootOf(parents: Uint32Array, i: number): number {
  let root = i;
  while (parents[root] !== root) {
    parents[root] = parents[parents[root]];
    root = parents[root];
  }
  return root;
}

/** Puts two triangles in one shell. Roots are the smallest index, so shells can be numbered in order. */
export function joinShells(parents: Uint32Array, a: number, b: number): void {
  let ra = a;
  let rb = b;
  while (parents[ra] !== ra) {
    parents[ra] = parents[parents[ra]];
    ra = parents[ra];
  }
  while (parents[rb] !== rb) {
    parents[rb] = parents[parents[rb]];
    rb = parents[rb];
  }
  if (ra < rb) parents[rb] = ra;
  else parents[ra] = rb;
}

/**
 * Numbers shells by their first triangle, leaving out the triangles `without` (ascending).
 * Takes the forest over: `shellOf` is the same array.
 */
export function numberShells(
  parents: Uint32Array,
  without: Uint32Array,
): { shellCount: number; shellOf: Uint32Array } {
  let shellCount = 0;
  let next = 0;
  for (let i = 0; i < parents.length; i++) {
    if (without[next] === i) {
      parents[i] = NO_SHELL;
      next++;
    } else {
      // A parent is never later than its child, so it has its number already.
      parents[i] = parents[i] === i ? shellCount++ : parents[parents[i]];
    }
  }
  return { shellCount, shellOf: parents };
}
