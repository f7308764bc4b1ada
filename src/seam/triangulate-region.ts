import Constrainautor from '@kninnug/constrainautor';
import Delaunator from 'delaunator';
import { type Loop, loopArea } from '../math/polygon.ts';

/**
 * Triangles of a region bounded by loops (counter-clockwise outside, clockwise holes): the Delaunay
 * triangulation that has every loop edge (Chew, *Constrained Delaunay triangulations*, 1989), its part
 * within the loops. Indices count the loops' points one after the other; triangles are counter-clockwise.
 * Null where there is none: points that coincide, edges that meet between their ends.
 */
export function triangulateRegion(loops: readonly Loop[]): Uint32Array | null {
  const next = nextInLoop(loops);
  const delaunay = new Delaunator(joined(loops));
  // An outline of close points has all its edges in it as it is.
  const triangles = within(delaunay, next) ?? (constrain(delaunay, next) ? within(delaunay, next) : null);
  return triangles?.length === expectedCount(loops) * 3 ? triangles : null;
}

function joined(loops: readonly Loop[]): Float64Array {
  const points = new Float64Array(loops.reduce((n, loop) => n + loop.length, 0));
  let at = 0;
  for (const loop of loops) {
    points.set(loop, at);
    at += loop.length;
  }
  return points;
}

/** The point that follows each in its loop: between the two is a loop edge. */
function nextInLoop(loops: readonly Loop[]): Uint32Array {
  const next = new Uint32Array(loops.reduce((n, loop) => n + loop.length / 2, 0));
  let first = 0;
  for (const loop of loops) {
    const end = first + loop.length / 2;
    for (let i = first; i < end; i++) next[i] = i + 1 < end ? i + 1 : first;
    first = end;
  }
  return next;
}

/** Turns edges until the triangulation has every loop edge; false where it cannot. */
function constrain(delaunay: Delaunator<Float64Array>, next: Uint32Array): boolean {
  try {
    new Constrainautor(delaunay).constrainAll(Array.from(next, (b, a): [number, number] => [a, b]));
    return true;
  } catch {
    return false;
  }
}

/** A region of V points, H holes and C pieces has V + 2H − 2C triangles (Euler). */
const expectedCount = (loops: readonly Loop[]): number =>
  loops.reduce((n, loop) => n + loop.length / 2 + (loopArea(loop) > 0 ? -2 : 2), 0);

/** The triangles on the left of the loop edges and all that can be reached from them without crossing one; null where an edge is missing. */
function within({ triangles, halfedges }: Delaunator<Float64Array>, next: Uint32Array): Uint32Array | null {
  const inside = new Uint8Array(triangles.length / 3);
  const stack = new Uint32Array(inside.length);
  let height = 0;
  let found = 0;
  for (let e = 0; e < triangles.length; e++) {
    // Seen with y upwards these triangles run clockwise: an edge of the loop has its material's triangle run against it.
    if (next[triangles[endOf(e)]] !== triangles[e]) continue;
    found++;
    const t = (e / 3) | 0;
    if (inside[t] === 0) stack[height++] = t;
    inside[t] = 1;
  }
  if (found !== next.length) return null;
  let count = 0;
  while (height > 0) {
    const first = stack[--height] * 3;
    count++;
    for (let e = first; e < first + 3; e++) {
      const a = triangles[e];
      const b = triangles[endOf(e)];
      if (halfedges[e] < 0 || next[a] === b || next[b] === a) continue;
      const t = (halfedges[e] / 3) | 0;
      if (inside[t] === 0) stack[height++] = t;
      inside[t] = 1;
    }
  }
  const kept = new Uint32Array(count * 3);
  let used = 0;
  for (let t = 0; t < inside.length; t++) {
    if (inside[t] === 0) continue;
    kept[used++] = triangles[t * 3];
    kept[used++] = triangles[t * 3 + 2];
    kept[used++] = triangles[t * 3 + 1];
  }
  return kept;
}

/** The half-edge that follows within a triangle. */
const endOf = (e: number): number => (e % 3 === 2 ? e - 2 : e + 1);
