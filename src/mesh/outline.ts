import { type PlaneFrame, toFrame } from '../math/plane.ts';
import type { Loop } from '../math/polygon.ts';
import type { Vec2 } from '../math/vec3.ts';
import type { Crossing } from './trace.ts';

/** Closed chains of vertex ids; counter-clockwise around material seen from the front. */
export type Ring = Uint32Array;

/**
 * Chains directed edges into closed rings. Where several rings meet in a vertex the
 * next edge is the one that turns most to the left, so that rings touch but do not cross.
 * `at` answers a vertex's frame coordinates.
 */
export function chainRings(edges: Uint32Array, at: (id: number) => readonly [number, number]): Ring[] {
  const next = new Map<number, number[]>();
  for (let i = 0; i < edges.length; i += 2) {
    const ends = next.get(edges[i]);
    if (ends) ends.push(edges[i + 1]);
    else next.set(edges[i], [edges[i + 1]]);
  }
  const rings: Ring[] = [];
  for (const [start, ends] of next) {
    while (ends.length > 0) {
      const ring = walk(next, start, at);
      if (ring.length >= 3) rings.push(Uint32Array.from(ring));
    }
  }
  return rings;
}

function walk(
  next: Map<number, number[]>,
  start: number,
  at: (id: number) => readonly [number, number],
): number[] {
  const ring = [start];
  let previous = start;
  let current = (next.get(start) as number[]).pop() as number;
  while (current !== start) {
    ring.push(current);
    const ends = next.get(current);
    if (!ends || ends.length === 0) return []; // open chain: the input was not closed here
    const pick = ends.length === 1 ? 0 : leftmost(at(previous), at(current), ends.map(at));
    previous = current;
    current = ends.splice(pick, 1)[0];
  }
  return ring;
}

function leftmost(
  from: readonly [number, number],
  via: readonly [number, number],
  ends: (readonly [number, number])[],
): number {
  const heading = Math.atan2(via[1] - from[1], via[0] - from[0]);
  const turns = ends.map((end) => {
    const turn = Math.atan2(end[1] - via[1], end[0] - via[0]) - heading;
    return Math.atan2(Math.sin(turn), Math.cos(turn));
  });
  return turns.indexOf(Math.max(...turns));
}

/** Answers the frame coordinates (mm) of a crossing's vertices, the mesh's own and the cut ones. */
export function crossingPoints(
  crossing: Crossing,
  positions: Float32Array,
  frame: PlaneFrame,
): (id: number) => Vec2 {
  return (id) => {
    const own = id < crossing.vertexCount;
    const from = own ? positions : crossing.cutPositions;
    const i = (own ? id : id - crossing.vertexCount) * 3;
    return toFrame(frame, [from[i], from[i + 1], from[i + 2]]);
  };
}

/** Rings of a crossing, and the frame coordinates (mm) of their points. */
export function outlineOf(
  crossing: Crossing,
  positions: Float32Array,
  frame: PlaneFrame,
): { rings: Ring[]; loops: Loop[] } {
  const at = crossingPoints(crossing, positions, frame);
  const rings = chainRings(crossing.edges, at);
  return { rings, loops: rings.map((ring) => Float64Array.from([...ring].flatMap((id) => at(id)))) };
}
