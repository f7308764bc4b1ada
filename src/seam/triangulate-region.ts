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
  const points = joined(loops);
  const edges = loopEdges(loops);
  const delaunay = new Delaunator(points);
  try {
    new Constrainautor(delaunay).constrainAll(edges);
  } catch {
    return null;
  }
  const triangles = within(delaunay, edges);
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

/** Each point and the next of its loop. */
function loopEdges(loops: readonly Loop[]): [number, number][] {
  let first = 0;
  return loops.flatMap((loop) => {
    const count = loop.length / 2;
    const start = first;
    first += count;
    return Array.from({ length: count }, (_, i): [number, number] => [start + i, start + ((i + 1) % count)]);
  });
}

/** A region of V points, H holes and C pieces has V + 2H − 2C triangles (Euler). */
const expectedCount = (loops: readonly Loop[]): number =>
  loops.reduce((n, loop) => n + loop.length / 2 + (loopArea(loop) > 0 ? -2 : 2), 0);

/** The triangles on the left of the loop edges and all that can be reached from them without crossing one; null where an edge is missing. */
function within(delaunay: Delaunator<Float64Array>, edges: readonly [number, number][]): Uint32Array | null {
  const { triangles, halfedges } = delaunay;
  const next = Int32Array.from(edges, () => -1);
  for (const [a, b] of edges) next[a] = b;
  const isWall = (a: number, b: number) => next[a] === b || next[b] === a;
  const inside = new Uint8Array(triangles.length / 3);
  const stack: number[] = [];
  const enter = (triangle: number) => {
    if (inside[triangle] === 1) return;
    inside[triangle] = 1;
    stack.push(triangle);
  };
  let found = 0;
  for (let e = 0; e < triangles.length; e++) {
    // Seen with y upwards these triangles run clockwise: an edge of the loop has its material's triangle run against it.
    if (next[triangles[endOf(e)]] !== triangles[e]) continue;
    found++;
    enter(Math.floor(e / 3));
  }
  if (found !== edges.length) return null;
  for (let triangle = stack.pop(); triangle !== undefined; triangle = stack.pop()) {
    for (let e = triangle * 3; e < triangle * 3 + 3; e++) {
      if (halfedges[e] >= 0 && !isWall(triangles[e], triangles[endOf(e)]))
        enter(Math.floor(halfedges[e] / 3));
    }
  }
  const kept: number[] = [];
  for (let t = 0; t < inside.length; t++) {
    if (inside[t] === 1) kept.push(triangles[t * 3], triangles[t * 3 + 2], triangles[t * 3 + 1]);
  }
  return Uint32Array.from(kept);
}

/** The half-edge that follows within a triangle. */
const endOf = (e: number): number => (e % 3 === 2 ? e - 2 : e + 1);
